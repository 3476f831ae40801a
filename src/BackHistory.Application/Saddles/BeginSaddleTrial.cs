using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle is lent for a horse to try.</summary>
public sealed class BeginSaddleTrial(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="From">Since when; now, where nothing is said.</param>
    /// <param name="OnBoth">Another horse goes on trying it.</param>
    public sealed record Input(Guid SaddleId, Guid TrialId, Guid HorseId, DateOnly? Until, DateTimeOffset? From, bool OnBoth = false);

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
                        new BeginTrial(given.TrialId, given.HorseId, given.Until, given.From ?? context.Now, context.Actor, given.OnBoth),
                        horse,
                        context.Now
                    );
            },
            ct
        );
    }
}
