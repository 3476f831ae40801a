using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Visits;

/// <summary>A visit and everything that was taken at it.</summary>
public sealed class EnterVisit(NotifyingCommands commands, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="By">Who was there; whoever enters it when null.</param>
    /// <param name="Method">How tracings were taken, a key of the protocol.</param>
    public sealed record Input(
        Guid HorseId,
        Guid VisitId,
        DateTimeOffset TakenAt,
        Guid? By,
        VisitConditions Conditions,
        string Method,
        IReadOnlyList<VisitEntry> Entries
    );

    public async Task<Outcome> Do(Input visit, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var protocol = (await practices.Load(context.Tenant, ct))?.ProtocolVersion ?? 1;
        var record = new RecordVisit(
            visit.VisitId,
            visit.TakenAt,
            visit.By ?? context.Actor,
            visit.Conditions,
            visit.Method,
            protocol,
            visit.Entries
        );
        return await commands.Execute<Horse>(context, visit.HorseId, horse => Decide(horse, record, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Horse? horse, RecordVisit visit, Caller by) =>
        EnteredByApprentices.Mark(HorseDecider.Decide(horse, visit, by.Context.Now), visit.VisitId, by);
}
