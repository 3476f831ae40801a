using BackHistory.History.Horses;
using BackHistory.Store.Events;
using Marten;

namespace BackHistory.Store.Horses;

/// <summary>What is asked about visits beyond what their records hold.</summary>
public sealed class VisitQueries(IDocumentStore store)
{
    /// <summary>What was entered at a visit, as it was entered, by the entry's id; what could not be read is left out.</summary>
    public async Task<IReadOnlyDictionary<Guid, IVisitEntryEvent>> Entered(string practice, VisitRecord visit, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var versions = visit.Entries.Select(e => e.Version).ToArray();
        var events = await session
            .Events.QueryWritten()
            .Where(e => e.StreamId == visit.HorseId && versions.Contains(e.Version))
            .ToListAsync(ct);
        return events.Select(e => e.Data).OfType<IVisitEntryEvent>().ToDictionary(e => e.EntryId);
    }

    /// <summary>Why a visit does not stand; null where it does.</summary>
    public async Task<string?> WhyGone(string practice, VisitRecord visit, CancellationToken ct)
    {
        if (!visit.Withdrawn)
            return null;
        await using var session = store.QuerySession(practice);
        var events = await session.Events.FetchStreamAsync(visit.HorseId, token: ct);
        return events
            .Select(e =>
                e.Data switch
                {
                    VisitWithdrawn d when d.VisitId == visit.Id => d.Reason,
                    VisitMerged d when d.VisitId == visit.Id => d.Reason,
                    _ => null,
                }
            )
            .LastOrDefault(reason => reason is not null);
    }

    /// <summary>Visits of somebody who enters and is confirmed by others that were sent back and not put back since, the latest
    /// first.</summary>
    public async Task<IReadOnlyList<VisitRecord>> SentBack(
        string practice,
        Guid enteredBy,
        DateTimeOffset since,
        int most,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var sentBack = await session
            .Query<VisitRecord>()
            .Where(v => v.By == enteredBy && v.AwaitsConfirmation && v.Withdrawn && v.MergedInto == null && v.RecordedAt > since)
            .OrderByDescending(v => v.RecordedAt)
            .ThenBy(v => v.Id)
            .Take(most)
            .ToListAsync(ct);
        var again = await session.LoadManyAsync<VisitRecord>(ct, [.. sentBack.Select(v => VisitIds.RestoredId(v.Id))]);
        var restored = again.Select(v => v.Id).ToHashSet();
        return [.. sentBack.Where(v => !restored.Contains(VisitIds.RestoredId(v.Id)))];
    }

    /// <summary>Visits that an apprentice entered and nobody has confirmed, the oldest first.</summary>
    public async Task<IReadOnlyList<VisitRecord>> Waiting(string practice, int most, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session
            .Query<VisitRecord>()
            .Where(v => v.AwaitsConfirmation && !v.Withdrawn)
            .OrderBy(v => v.RecordedAt)
            .ThenBy(v => v.Id)
            .Take(most)
            .ToListAsync(ct);
    }
}
