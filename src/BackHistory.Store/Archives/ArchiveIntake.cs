using System.Globalization;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Audit;
using BackHistory.Store.Events;
using JasperFx.Events;
using Marten;

namespace BackHistory.Store.Archives;

/// <summary>Takes an archive into an empty practice: the same events by the same hands at the same times, so that the same read models
/// follow.</summary>
public sealed class ArchiveIntake(IDocumentStore store, AdvisoryLocks turns)
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    private static readonly Dictionary<string, Type> Types = EventAliases.All.ToDictionary(
        a => a.Value,
        a => a.Key,
        StringComparer.Ordinal
    );

    public static readonly Refused NotEmpty = new(
        "not-empty",
        "An archive is taken into an empty practice only; this one has a history of its own. Nothing was saved.",
        RefusalKind.Conflict
    );

    public static readonly Refused AtWork = new(
        "archive-at-work",
        "An archive is being taken into this practice at this moment. Nothing of this one was; look again when the other is in.",
        RefusalKind.Conflict
    );

    /// <summary>The turn to take archives into this practice; null while somebody else has it.</summary>
    public Task<AdvisoryLock?> Turn(string practice, CancellationToken ct) => turns.TryTake($"archive:{practice}", ct);

    /// <summary>
    /// Whether an archive was begun here and is not whole: what would be concluded from a half, and written to somebody, waits for the
    /// rest.
    /// </summary>
    public async Task<bool> IsHalf(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<TakenArchive>(TakenArchive.TheOne, ct) is { IsHalf: true };
    }

    /// <summary>Whether the practice can take this archive, and from where on.</summary>
    public async Task<(long After, Refused? Refused)> Begin(string practice, string hash, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (await session.LoadAsync<TakenArchive>(TakenArchive.TheOne, ct) is { } taken && (taken.Done || taken.Position > 0))
            return taken.Hash == hash ? (taken.Position, null) : (0, NotEmpty);
        // A practice is founded, and its people let in, before anybody can send an archive: that is no history of horses yet.
        var other = await session.Query<Horse>().AnyAsync(ct) || await session.Query<Saddle>().AnyAsync(ct);
        return other ? (0, NotEmpty) : (0, null);
    }

    public async Task Documents(string practice, string hash, ArchivedDocuments documents, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        var begun = await session.LoadAsync<TakenArchive>(TakenArchive.TheOne, ct);
        session.StoreObjects(documents.People);
        session.StoreObjects(documents.Yards);
        session.StoreObjects(documents.Contact ?? []);
        session.StoreObjects(documents.Identities ?? []);
        session.StoreObjects(documents.Notes);
        session.StoreObjects(documents.Letters);
        session.StoreObjects(documents.Comments);
        // Positions of another store mean nothing here: every horse is looked at again, from what was last said of it.
        session.StoreObjects(documents.Assessments.Select(a => a with { BasedOn = 0 }));
        session.Store(new TakenArchive(TakenArchive.TheOne, hash, 0, false, begun?.LettersWait ?? true));
        await session.SaveChangesAsync(ct);
    }

    /// <summary>Who looked at what, as it was noted there. Taken in twice it stands once.</summary>
    public async Task Audit(string practice, IAsyncEnumerable<AuditNote> notes, CancellationToken ct)
    {
        await foreach (var some in notes.Chunk(1000).WithCancellation(ct))
        {
            await using var session = store.LightweightSession(practice);
            session.StoreObjects(some);
            await session.SaveChangesAsync(ct);
        }
    }

    public async Task File(string practice, FileBytes file, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        FileTable.Queue(session, file);
        await session.SaveChangesAsync(ct);
    }

    private const string TakenAsItStands =
        "To take it in as it stands, with what cannot be worked out set aside, send it with implausible=set-aside.";

    /// <summary>Looks at every event before anything is taken in: an archive is refused whole.</summary>
    /// <param name="events">With the lines on which they stand.</param>
    /// <param name="implausible">
    /// Whether events are taken in though no horse has their numbers; what cannot be computed from them is then set aside.
    /// </param>
    /// <exception cref="ArchiveException">
    /// A line is no event of this release, stands where it cannot, or holds what cannot be meant or kept; the message says which.
    /// </exception>
    public async Task<JudgedArchive> Judge(
        string practice,
        IAsyncEnumerable<(int Line, ArchivedEvent Event)> events,
        bool implausible,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var histories = new ArchivedHistories(await Streams(practice, ct), await FoundedAs(practice, ct));
        await foreach (var (line, e) in events.WithCancellation(ct))
        {
            var data = Wrap(line, e).Data;
            if (StoredText.ProblemOf(data) is { } unwritable)
                throw new ArchiveException(Line(line, e.Type, unwritable.Message), unwritable.Code);
            if (WholeValue.FirstUnlisted(data) is { } unlisted)
                throw new ArchiveException(Line(line, e.Type, unlisted), "implausible");
            if (!implausible && Judged(e, data, now) is { } problem)
                throw new ArchiveException($"{Line(line, e.Type, problem.Message)} {TakenAsItStands}", "implausible");
            if (InPlace(histories, line, e, data) is { } why)
                throw new ArchiveException(Line(line, e.Type, why), "incomplete");
        }

        if (histories.LeadsOut is { } outside)
            throw new ArchiveException(Line(outside.Line, outside.Type, outside.Why), "incomplete");
        return histories.Whole();
    }

    private static string? InPlace(ArchivedHistories histories, int line, ArchivedEvent e, object data)
    {
        try
        {
            return histories.Take(line, e, data);
        }
        catch (Exception fault) when (ComputationFault.IsOurs(fault))
        {
            return "a part of it is missing, or does not fit what came before.";
        }
    }

    /// <summary>An event on which the judgement itself breaks is none that can be meant.</summary>
    private static Refused? Judged(ArchivedEvent e, object data, DateTimeOffset now)
    {
        try
        {
            return WholeValue.FirstMissing(data) is { } missing
                ? new Refused("implausible", $"'{missing}' is missing.")
                : ArchivedEventCheck.Problem(e, data, now);
        }
        catch (Exception fault) when (ComputationFault.IsOurs(fault))
        {
            return new Refused("implausible", "A part of it is missing.");
        }
    }

    private static string Line(int line, string type, string why) =>
        string.Create(CultureInfo.InvariantCulture, $"On line {line} of events.jsonl, {type}: {why}");

    /// <summary>The histories that this practice has.</summary>
    private async Task<IReadOnlySet<Guid>> Streams(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var ids = await session.AdvancedSql.QueryAsync<Guid>("select id from history.mt_streams where tenant_id = ?", ct, practice);
        return ids.ToHashSet();
    }

    /// <summary>Takes events in, each act of the old store as one act here.</summary>
    /// <exception cref="ArchiveException">A line is no event of this release; what came before it is saved.</exception>
    public async Task Events(string practice, string hash, IAsyncEnumerable<ArchivedEvent> events, CancellationToken ct)
    {
        var founded = await FoundedAs(practice, ct);
        var act = new List<ArchivedEvent>();
        var last = 0L;
        await foreach (var e in events.WithCancellation(ct))
        {
            if (
                act.Count > 0
                && (
                    act[0].Stream != e.Stream
                    || act[0].Command != e.Command
                    || act[0].RecordedBy != e.RecordedBy
                    || act[0].RecordedAt != e.RecordedAt
                )
            )
            {
                await Save(practice, hash, founded, act, ct);
                act.Clear();
            }

            act.Add(e);
            last = e.Position;
        }

        if (act.Count > 0)
            await Save(practice, hash, founded, act, ct);
        await using var session = store.LightweightSession(practice);
        var begun = await Begun(session, hash, ct);
        // Sent once more, nothing of it was new.
        session.Store(begun with { Position = last > 0 ? last : begun.Position, Done = true });
        await session.SaveChangesAsync(ct);
    }

    private async Task Save(string practice, string hash, Guid? founded, List<ArchivedEvent> act, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        var first = act[0];
        session.LastModifiedBy = first.RecordedBy;
        session.CausationId = first.Command;
        var stream = first.Of == "practice" && founded is { } own ? own : first.Stream;
        var wrapped = act.Where(e => founded is null || e.Type != "practice_founded").Select(e => Wrap(e.Position, e)).ToList<object>();
        if (wrapped.Count > 0 && first.Version == 1 && !(first.Of == "practice" && founded is not null))
            Start(session, first.Of, stream, wrapped);
        else if (wrapped.Count > 0)
            session.Events.Append(stream, wrapped);
        foreach (var e in session.PendingChanges.Streams().SelectMany(s => s.Events))
            e.Timestamp = first.RecordedAt;
        session.Store((await Begun(session, hash, ct)) with { Position = act[^1].Position, Done = false });
        await session.SaveChangesAsync(ct);
    }

    private static async Task<TakenArchive> Begun(IQuerySession session, string hash, CancellationToken ct) =>
        await session.LoadAsync<TakenArchive>(TakenArchive.TheOne, ct) ?? new TakenArchive(TakenArchive.TheOne, hash, 0, false, true);

    private static void Start(IDocumentSession session, string of, Guid stream, List<object> events)
    {
        switch (of)
        {
            case "horse":
                session.Events.StartStream<Horse>(stream, events);
                break;
            case "saddle":
                session.Events.StartStream<Saddle>(stream, events);
                break;
            case "reminder":
                session.Events.StartStream<Reminder>(stream, events);
                break;
            case "bulletin":
                session.Events.StartStream<Digest>(stream, events);
                break;
            case "sharing":
                session.Events.StartStream<HorseSharing>(stream, events);
                break;
            default:
                session.Events.StartStream<Practice>(stream, events);
                break;
        }
    }

    private static IEvent Wrap(long line, ArchivedEvent e)
    {
        object? data = null;
        // What is left out of a line is null, whatever its type says.
        if (Types.TryGetValue(e.Type ?? "", out var type) && e.Data.ValueKind == JsonValueKind.Object)
        {
            try
            {
                data = e.Data.Deserialize(type, Json);
            }
            catch (JsonException)
            {
                // Told below, with its place.
            }
        }

        if (data is null)
            throw new ArchiveException(
                string.Create(CultureInfo.InvariantCulture, $"Line {line} of events.jsonl is no event '{e.Type}' that this release knows.")
            );
        var wrapped = (IEvent)Activator.CreateInstance(typeof(Event<>).MakeGenericType(type!), data)!;
        wrapped.Id = e.Id;
        return wrapped;
    }

    private async Task<Guid?> FoundedAs(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return (await session.Query<Practice>().FirstOrDefaultAsync(ct))?.Id;
    }
}
