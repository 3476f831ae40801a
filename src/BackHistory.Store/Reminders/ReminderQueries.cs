using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Archives;
using Marten;

namespace BackHistory.Store.Reminders;

/// <summary>What is asked about reminders and letters.</summary>
public sealed class ReminderQueries(IDocumentStore store)
{
    public async Task<Reminder?> Load(string practice, Guid reminderId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Reminder>(reminderId, ct);
    }

    /// <summary>Some of them by their ids; what is not there is left out.</summary>
    public async Task<IReadOnlyDictionary<Guid, Reminder>> Load(string practice, IEnumerable<Guid> ids, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return (await session.LoadManyAsync<Reminder>(ct, [.. ids.Distinct()])).ToDictionary(r => r.Id);
    }

    /// <summary>Newest first, from a place on.</summary>
    /// <param name="states">Any of these; empty for all.</param>
    public async Task<IReadOnlyList<Reminder>> Newest(
        string practice,
        ReminderState[] states,
        Guid? horseId,
        (DateTimeOffset At, Guid Id)? before,
        int size,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var query = session.Query<Reminder>().AsQueryable();
        if (states.Length > 0)
            query = query.Where(r => r.State.IsOneOf(states));
        if (horseId is { } horse)
            query = query.Where(r => r.HorseId == horse);
        if (before is { } c)
            query = query.Where(r => r.RaisedAt < c.At || (r.RaisedAt == c.At && r.Id.CompareTo(c.Id) < 0));
        return await query.OrderByDescending(r => r.RaisedAt).ThenByDescending(r => r.Id).Take(size).ToListAsync(ct);
    }

    /// <summary>How many stand in each state; a state without any is left out.</summary>
    public async Task<IReadOnlyDictionary<ReminderState, int>> Counts(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var counts = new Dictionary<ReminderState, int>();
        foreach (var state in Enum.GetValues<ReminderState>())
            counts[state] = await session.Query<Reminder>().CountAsync(r => r.State == state, ct);
        return counts.Where(c => c.Value > 0).ToDictionary();
    }

    /// <summary>All that a horse ever had.</summary>
    public async Task<IReadOnlyList<Reminder>> OfHorse(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Reminder>().Where(r => r.HorseId == horseId).OrderBy(r => r.RaisedAt).ThenBy(r => r.Id).ToListAsync(ct);
    }

    /// <summary>The latest reminder by any of these rules, of one horse or of all; null without any.</summary>
    public async Task<Reminder?> Latest(string practice, ReminderRule[] rules, Guid? horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var query = session.Query<Reminder>().Where(r => r.Rule.IsOneOf(rules));
        if (horseId is { } horse)
            query = query.Where(r => r.HorseId == horse);
        var latest = query.OrderByDescending(r => r.RaisedAt);
        return await latest
                .Where(r => r.State.IsOneOf(ReminderState.Open, ReminderState.PutOff, ReminderState.Booked))
                .FirstOrDefaultAsync(ct)
            ?? await latest.FirstOrDefaultAsync(ct);
    }

    /// <summary>A letter by its id; null where this practice has none such.</summary>
    public async Task<Letter?> Letter(string practice, Guid letterId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Letter>(letterId, ct);
    }

    /// <summary>Reminders that expect something of somebody, longest standing first.</summary>
    public async Task<IReadOnlyList<Reminder>> Active(string practice, int most, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session
            .Query<Reminder>()
            .Where(r => r.State.IsOneOf(ReminderState.Open, ReminderState.PutOff, ReminderState.Booked))
            .OrderBy(r => r.RaisedAt)
            .ThenBy(r => r.Id)
            .Take(most)
            .ToListAsync(ct);
    }

    /// <summary>Booked visits from one moment to another, in order of time. Two reminders of one horse may share a booking.</summary>
    public async Task<IReadOnlyList<Reminder>> Booked(string practice, DateTimeOffset from, DateTimeOffset to, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var rows = await session
            .Query<Reminder>()
            .Where(r => r.State == ReminderState.Booked && r.BookedFor >= from && r.BookedFor < to)
            .ToListAsync(ct);
        return [.. rows.OrderBy(r => r.BookedFor).ThenBy(r => r.Id)];
    }

    /// <summary>The horses of these reminders, by id.</summary>
    public async Task<IReadOnlyDictionary<Guid, HorseProfile>> Horses(string practice, IEnumerable<Guid> ids, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return (await session.LoadManyAsync<HorseProfile>(ct, ids.Distinct().ToArray())).ToDictionary(h => h.Id);
    }

    /// <summary>Whether any letter still has to go out.</summary>
    public async Task<bool> AnyOwed(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Letter>().AnyAsync(l => l.State.IsOneOf(LetterState.Owed, LetterState.Deferred), ct);
    }

    /// <summary>All letters that still have to go out, oldest first, by their ids.</summary>
    public async Task<IReadOnlyList<Guid>> Owed(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session
            .Query<Letter>()
            .Where(l => l.State.IsOneOf(LetterState.Owed, LetterState.Deferred))
            .OrderBy(l => l.OwedAt)
            .ThenBy(l => l.Id)
            .Select(l => l.Id)
            .ToListAsync(ct);
    }

    /// <summary>Some of them whole, oldest first.</summary>
    public async Task<IReadOnlyList<Letter>> Owed(string practice, int most, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session
            .Query<Letter>()
            .Where(l => l.State.IsOneOf(LetterState.Owed, LetterState.Deferred))
            .OrderBy(l => l.OwedAt)
            .ThenBy(l => l.Id)
            .Take(most)
            .ToListAsync(ct);
    }

    /// <summary>Whether a letter to anybody outside the practice's own staff ever left from here: not those that an archive tells
    /// of.</summary>
    public async Task<bool> AnySent(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (await session.LoadAsync<TakenArchive>(TakenArchive.TheOne, ct) is { LettersWait: true })
            return false;
        var told = await session
            .Query<Letter>()
            .Where(l => l.State.IsOneOf(LetterState.Sent, LetterState.Delivered, LetterState.Bounced) && l.ReminderId != null)
            .Select(l => l.To)
            .Distinct()
            .ToListAsync(ct);
        return told.Count > 0 && (await session.LoadManyAsync<Person>(ct, [.. told])).Any(p => !LetterGate.Inside(p));
    }

    public async Task<LetterAttempts?> Attempts(string practice, Guid letterId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<LetterAttempts>(letterId, ct);
    }

    public async Task Keep(string practice, LetterAttempts attempts, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        session.Store(attempts);
        await session.SaveChangesAsync(ct);
    }

    public async Task<IReadOnlyList<Letter>> LettersOf(string practice, Guid reminderId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session
            .Query<Letter>()
            .Where(l => l.ReminderId == reminderId)
            .OrderBy(l => l.OwedAt)
            .ThenBy(l => l.Id)
            .ToListAsync(ct);
    }

    /// <summary>A letter as it was composed; null before the first attempt.</summary>
    public async Task<LetterContent?> Content(string practice, Guid letterId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<LetterContent>(letterId, ct);
    }

    /// <summary>Keeps a letter as it was composed, unless its reader was erased meanwhile.</summary>
    /// <returns>Whether it is kept; a letter that is not kept is not sent.</returns>
    public async Task<bool> Keep(string practice, Guid reader, LetterContent content, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        // Whoever erases this person waits until the letter lies there to be erased.
        if (await new Held(session, practice, ct).Document<Person>(reader) is null)
            return false;
        session.Store(content);
        await session.SaveChangesAsync(ct);
        return true;
    }

    public async Task<Assessment?> Assessment(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Assessment>(horseId, ct);
    }
}
