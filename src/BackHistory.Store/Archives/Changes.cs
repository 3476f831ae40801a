using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.Store.Events;
using BackHistory.Store.Horses;
using Marten;
using Marten.Linq.MatchesSql;

namespace BackHistory.Store.Archives;

/// <summary>The practice's events as a feed that other software follows by its own cursor.</summary>
public sealed class Changes(IDocumentStore store, Progress progress)
{
    /// <summary>Events of other streams that can tell of a horse. They are short: looking into them is cheap.</summary>
    private static readonly string[] Elsewhere =
    [
        .. EventAliases
            .All.Where(a => a.Key.IsAssignableTo(typeof(ISaddleEvent)) || a.Key.IsAssignableTo(typeof(IReminderEvent)))
            .Select(a => a.Value),
    ];

    private const string Names = "strpos(d.data::text, ?) > 0";

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
        var query = session.Events.QueryWritten().Where(e => e.Sequence > position && e.Sequence <= settled);
        if (filter.Types.Count > 0)
        {
            var types = filter.Types.ToArray();
            query = query.Where(e => types.Contains(e.EventTypeName));
        }

        // By the events themselves: a read model that knows a horse's saddles and reminders may be behind the cursor, and what it did not
        // know then would never be told.
        if (filter.HorseId is { } horse)
            query = query.Where(e => e.StreamId == horse || (Elsewhere.Contains(e.EventTypeName) && e.MatchesSql(Names, horse.ToString())));

        var page = await query.OrderBy(e => e.Sequence).Take(size).ToListAsync(ct);
        var events = page.Where(e => filter.HorseId is null || PastQueries.Concerns(e.Data, filter.HorseId.Value, e.StreamId))
            .Select(ArchivedEvent.From)
            .ToList();
        var more = page.Count == size;
        return (events, more ? page[^1].Sequence : settled, more);
    }
}
