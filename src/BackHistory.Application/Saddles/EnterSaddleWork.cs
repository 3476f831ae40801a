using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle was set to a horse, altered or flocked.</summary>
public sealed class EnterSaddleWork(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, WorkDone Work);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.ExecuteHolding<Saddle>(
            context,
            given.SaddleId,
            async held =>
            {
                var horse = await held.Stream<Horse>(given.Work.HorseId);
                return saddle => SaddleDecider.Decide(saddle, given.Work.Command(context), horse, context.Now);
            },
            ct
        );
    }
}
