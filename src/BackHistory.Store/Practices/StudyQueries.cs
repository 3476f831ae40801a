using BackHistory.History.Horses;
using BackHistory.History.Practices;
using Marten;

namespace BackHistory.Store.Practices;

/// <summary>What is asked about studies of repeatability.</summary>
public sealed class StudyQueries(IDocumentStore store)
{
    /// <summary>The visits that count towards a study and still stand, oldest first.</summary>
    public async Task<IReadOnlyList<VisitRecord>> Visits(string practice, GuidedStudy study, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var ids = study.Visits.Select(v => v.VisitId).ToArray();
        var visits = await session.Query<VisitRecord>().Where(v => v.Id.IsOneOf(ids)).ToListAsync(ct);
        return [.. visits.Where(v => !v.Withdrawn).OrderBy(v => v.TakenAt).ThenBy(v => v.Id)];
    }
}
