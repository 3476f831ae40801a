using BackHistory.History;
using BackHistory.History.Saddles;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Saddles;

/// <summary>Another piece of work in the place of a wrong one.</summary>
public sealed class CorrectSaddleWork(NotifyingCommands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Replacement">The work as it really was; its id is new.</param>
    public sealed record Input(Guid SaddleId, Guid WorkId, WorkDone Replacement, string Reason);

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var horse = await horses.Load(context.Tenant, given.Replacement.HorseId, ct);
        return await commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(
                    saddle,
                    new CorrectWork(given.WorkId, given.Replacement.Command(context), given.Reason, context.Actor),
                    horse,
                    context.Now
                ),
            ct
        );
    }
}
