using BackHistory.History;
using BackHistory.History.Saddles;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle was set to a horse, altered or flocked.</summary>
public sealed class EnterSaddleWork(NotifyingCommands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, WorkDone Work);

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var horse = await horses.Load(context.Tenant, given.Work.HorseId, ct);
        return await commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, given.Work.Command(context), horse, context.Now),
            ct
        );
    }
}
