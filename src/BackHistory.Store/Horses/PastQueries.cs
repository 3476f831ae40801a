using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.History.Timeline;
using BackHistory.Store.Projections;
using JasperFx.Events;
using Marten;

namespace BackHistory.Store.Horses;

/// <summary>What did we know on a day: folds a horse's events anew, up to what had been recorded by then.</summary>
public sealed class PastQueries(IDocumentStore store)
{
    /// <returns>Null when the horse was not known yet, or is another practice's.</returns>
    public async Task<HorseThen?> Horse(string practice, Guid horseId, DateTimeOffset knownAt, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var streams = (await session.Query<TimelineEntry>().Where(t => t.HorseId == horseId).ToListAsync(ct))
            .SelectMany(t => new[] { t.SaddleId, t.ReminderId })
            .OfType<Guid>()
            .Distinct()
            .Order();
        var events = new List<IEvent>();
        // Events lie by position; of a restored or imported history the recorded clock need not rise with it.
        foreach (var stream in streams.Prepend(horseId))
            events.AddRange(
                (await session.Events.FetchStreamAsync(stream, token: ct)).Where(e =>
                    e.Timestamp <= knownAt && Concerns(e.Data, horseId, e.StreamId)
                )
            );
        events.Sort((a, b) => a.Sequence.CompareTo(b.Sequence));

        HorseProfile? profile = null;
        foreach (var e in events)
            profile = HorseProfileProjection.Fold(profile, horseId, e);
        if (profile is null)
            return null;
        var visits = events
            .Where(e => e.Data is IVisitEvent)
            .GroupBy(e => ((IVisitEvent)e.Data).VisitId)
            .Select(v => v.Aggregate((VisitRecord?)null, VisitRecordProjection.Fold))
            .OfType<VisitRecord>()
            .OrderBy(v => v.TakenAt)
            .ThenBy(v => v.Id)
            .ToList();
        var reminders = new List<Reminder>();
        foreach (var reminder in events.Where(e => e.Data is IReminderEvent).GroupBy(e => e.StreamId))
            reminders.Add(
                (await session.Events.AggregateStreamAsync<Reminder>(reminder.Key, version: reminder.Max(e => e.Version), token: ct))!
            );
        var position = events[^1].Sequence;
        var watch = await Rules(session, knownAt, ct) is { } rules
            ? Assessing.Assess(profile, visits, rules, PracticeClock.Day(rules, knownAt), position, null)
            : null;
        return new HorseThen(horseId, knownAt, position, profile, visits, TimelineOf(events, horseId), reminders, watch);
    }

    /// <summary>Whether an event of this stream tells something of the horse.</summary>
    internal static bool Concerns(object e, Guid horse, Guid stream) =>
        e switch
        {
            SaddleMoved d => d.HorseId == horse || d.FromHorseId == horse,
            ISaddleOnHorse d => d.HorseId == horse,
            IReminderEvent d => d.HorseId == horse,
            IHorseEvent => stream == horse,
            ISaddleEvent or IPracticeEvent or IDigestEvent or ISharingEvent => false,
            _ => throw UnknownEventException.In(nameof(PastQueries), e),
        };

    internal static IReadOnlyList<TimelineEntry> TimelineOf(IReadOnlyList<IEvent> events, Guid horse) =>
        [
            .. events
                .Select(e =>
                    TimelineProjection.EntryFor(e.Data is SaddleMoved d && d.FromHorseId == horse ? TimelineProjection.Left(e.Id) : e.Id, e)
                )
                .OfType<TimelineEntry>()
                .OrderByDescending(t => t.TakenAt)
                .ThenByDescending(t => t.Sequence),
        ];

    /// <summary>The database takes moments in UTC only; where the practice is, a day ends at another hour.</summary>
    private static async Task<Practice?> Rules(IQuerySession session, DateTimeOffset knownAt, CancellationToken ct) =>
        await session.Query<Practice>().FirstOrDefaultAsync(ct) is { } known
            ? await session.Events.AggregateStreamAsync<Practice>(known.Id, timestamp: knownAt.ToUniversalTime(), token: ct)
            : null;
}
