using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle goes to another horse.</summary>
public sealed class MoveSaddleToHorse(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid FromHorseId, Guid HorseId, string? Reason, DateTimeOffset? At);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.ExecuteHolding<Saddle>(
            context,
            given.SaddleId,
            async held =>
            {
                var horse = await held.Stream<Horse>(given.HorseId);
                return saddle =>
                    SaddleDecider.Decide(
                        saddle,
                        new MoveSaddle(given.FromHorseId, given.HorseId, given.Reason, given.At ?? context.Now, context.Actor),
                        horse,
                        context.Now
                    );
            },
            ct
        );
    }
}
