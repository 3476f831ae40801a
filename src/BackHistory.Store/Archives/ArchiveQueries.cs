using System.Runtime.CompilerServices;
using BackHistory.History.Horses;
using BackHistory.History.Sharing;
using BackHistory.History.Timeline;
using BackHistory.Store.Events;
using Marten;

namespace BackHistory.Store.Archives;

/// <summary>What an archive holds: a whole practice, or one horse with its saddles and reminders.</summary>
public sealed class ArchiveQueries(IDocumentStore store)
{
    private const int Page = 500;

    /// <summary>The histories that one horse's archive holds; null when there is no such horse.</summary>
    public async Task<ArchiveScope?> ScopeOf(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (await session.LoadAsync<Horse>(horseId, ct) is not { } horse)
            return null;
        var horses = horse.Merged.Add(horseId);
        var touched = await session.Query<TimelineEntry>().Where(t => t.HorseId.IsOneOf(horses.ToArray())).ToListAsync(ct);
        var streams = touched.SelectMany(t => new[] { t.SaddleId, t.ReminderId }).OfType<Guid>().Concat(horses).ToHashSet();
        var sharing = await session.Query<HorseSharing>().Where(s => s.HorseId.IsOneOf(horses.ToArray())).Select(s => s.Id).ToListAsync(ct);
        streams.UnionWith(sharing);
        return new ArchiveScope(horses.ToHashSet(), streams);
    }

    /// <summary>Events in the order in which they were recorded, counted from 1.</summary>
    public async IAsyncEnumerable<ArchivedEvent> Events(string practice, ArchiveScope? scope, [EnumeratorCancellation] CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var streams = scope?.Streams.ToArray();
        var (after, count) = (0L, 0L);
        while (true)
        {
            var from = after;
            var query = session.Events.QueryWritten().Where(e => e.Sequence > from);
            if (streams is not null)
                query = query.Where(e => streams.Contains(e.StreamId));
            var page = await query.OrderBy(e => e.Sequence).Take(Page).ToListAsync(ct);
            foreach (var e in page)
                yield return ArchivedEvent.From(e) with
                {
                    Position = ++count,
                };
            if (page.Count < Page)
                yield break;
            after = page[^1].Sequence;
        }
    }

    /// <summary>Documents of one kind, by id.</summary>
    public async IAsyncEnumerable<T> All<T>(string practice, [EnumeratorCancellation] CancellationToken ct)
        where T : class
    {
        await using var session = store.QuerySession(practice);
        await foreach (var document in session.Query<T>().OrderBySql("id").ToAsyncEnumerable(ct))
            yield return document;
    }
}
