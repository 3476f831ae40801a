using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>A visit with everything that was taken at it counts no longer.</summary>
public sealed class WithdrawWholeVisit(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid VisitId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(context, given.HorseId, horse => Decide(horse, given, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Horse? horse, Input given, Caller by) =>
        HorseDecider.Decide(horse, new WithdrawVisit(given.VisitId, given.Reason, by.Context.Actor), by.Context.Now);
}
