using BackHistory.History;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Visits;

/// <summary>A visit was entered twice: what only one of the two holds goes into the other. It corrects the history, so a fitter answers
/// for it.</summary>
public sealed class MergeVisits(Merging merging, IChangeNotifier changes) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid VisitId, Guid IntoId, string Reason);

    public async Task<Outcome> Do(Input visits, Caller by, CancellationToken ct)
    {
        var outcome = await merging.Visits(by.Context, visits.HorseId, visits.VisitId, visits.IntoId, visits.Reason, ct);
        if (outcome.Refused is null)
            changes.SomethingHappened(by.Context.Tenant);
        return outcome;
    }
}
