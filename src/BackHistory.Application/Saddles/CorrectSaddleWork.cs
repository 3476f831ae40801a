using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Saddles;

/// <summary>Another piece of work in the place of a wrong one.</summary>
public sealed class CorrectSaddleWork(NotifyingCommands commands, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Replacement">The work as it really was; its id is new.</param>
    public sealed record Input(Guid SaddleId, Guid WorkId, WorkDone Replacement, string Reason);

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var gauges = (await practices.Load(context.Tenant, ct))?.Gauges;
        return await commands.ExecuteHolding<Saddle>(
            context,
            given.SaddleId,
            async held =>
            {
                var horse = await held.Stream<Horse>(given.Replacement.HorseId);
                return saddle =>
                    SaddleDecider.Decide(
                        saddle,
                        new CorrectWork(given.WorkId, given.Replacement.Command(context), given.Reason, context.Actor),
                        horse,
                        context.Now,
                        gauges
                    );
            },
            ct
        );
    }
}
