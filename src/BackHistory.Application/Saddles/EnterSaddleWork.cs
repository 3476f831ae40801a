using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle was set to a horse, altered or flocked.</summary>
public sealed class EnterSaddleWork(NotifyingCommands commands, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, WorkDone Work);

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var gauges = (await practices.Load(context.Tenant, ct))?.Gauges;
        return await commands.ExecuteHolding<Saddle>(
            context,
            given.SaddleId,
            async held =>
            {
                var horse = await held.Stream<Horse>(given.Work.HorseId);
                return saddle => Decide(saddle, given.Work.Command(context), horse, by, gauges);
            },
            ct
        );
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(
        Saddle? saddle,
        RecordWork work,
        Horse? horse,
        Caller by,
        IReadOnlyDictionary<string, GaugeTable>? gauges
    ) => SaddleDecider.Decide(saddle, work, horse, by.Context.Now, gauges);
}
