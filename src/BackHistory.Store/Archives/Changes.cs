using BackHistory.History.Timeline;
using BackHistory.Store.Horses;
using Marten;

namespace BackHistory.Store.Archives;

/// <summary>The practice's events as a feed that other software follows by its own cursor.</summary>
public sealed class Changes(IDocumentStore store, Progress progress)
{
    /// <summary>Events after a position, in order, and the position to go on from. Nothing appears later before what was given
    /// already.</summary>
    public async Task<(IReadOnlyList<ArchivedEvent> Events, long Next, bool More)> After(
        string practice,
        long position,
        ChangeFilter filter,
        int size,
        CancellationToken ct
    )
    {
        // An earlier number may still be in an open transaction: up to here the store knows that none is.
        var settled = await progress.Settled(ct);
        if (settled <= position)
            return ([], position, false);
        await using var session = store.QuerySession(practice);
        var query = session.Events.QueryAllRawEvents().Where(e => e.Sequence > position && e.Sequence <= settled);
        if (filter.Types.Count > 0)
        {
            var types = filter.Types.ToArray();
            query = query.Where(e => types.Contains(e.EventTypeName));
        }

        if (filter.HorseId is { } horse)
        {
            var touched = await session.Query<TimelineEntry>().Where(t => t.HorseId == horse).ToListAsync(ct);
            var streams = touched.SelectMany(t => new[] { t.SaddleId, t.ReminderId }).OfType<Guid>().Append(horse).Distinct().ToArray();
            query = query.Where(e => streams.Contains(e.StreamId));
        }

        var page = await query.OrderBy(e => e.Sequence).Take(size).ToListAsync(ct);
        var events = page.Where(e => filter.HorseId is null || PastQueries.Concerns(e.Data, filter.HorseId.Value, e.StreamId))
            .Select(ArchivedEvent.From)
            .ToList();
        var more = page.Count == size;
        return (events, more ? page[^1].Sequence : settled, more);
    }
}
