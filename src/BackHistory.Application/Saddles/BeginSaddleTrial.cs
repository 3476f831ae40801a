using BackHistory.History;
using BackHistory.History.Saddles;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle is lent for a horse to try.</summary>
public sealed class BeginSaddleTrial(NotifyingCommands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid TrialId, Guid HorseId, DateOnly? Until, DateTimeOffset? From);

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
                    new BeginTrial(given.TrialId, given.HorseId, given.Until, given.From ?? context.Now, context.Actor),
                    horse,
                    context.Now
                ),
            ct
        );
    }
}
