using BackHistory.History;
using BackHistory.History.Saddles;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle goes to another horse.</summary>
public sealed class MoveSaddleToHorse(NotifyingCommands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid FromHorseId, Guid HorseId, string? Reason, DateTimeOffset? At);

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var horse = await horses.Load(context.Tenant, given.HorseId, ct);
        return await commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(
                    saddle,
                    new MoveSaddle(given.FromHorseId, given.HorseId, given.Reason, given.At ?? context.Now, context.Actor),
                    horse,
                    context.Now
                ),
            ct
        );
    }
}
