using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Reminders;
using BackHistory.History.Sharing;
using BackHistory.Store.Events;
using BackHistory.Store.Imports;
using BackHistory.Store.Sharing;
using Marten;
using Marten.Linq.MatchesSql;

namespace BackHistory.Store.Erasing;

/// <summary>Looks for what an erasure leaves: words of others that name the person, and ways in that were made for
/// them.</summary>
internal static class Remains
{
    /// <summary>Of a table that waits to be entered; what finds it says so.</summary>
    private const string Table = "table";

    private const string NoteKind = "note";
    private const string CommentKind = "comment";
    private const string LetterKindName = "letter";

    private static readonly NameWords Nameless = new([]);

    private const string Names =
        "Names this person, and was not said to be about them. Look whether it tells of them, and correct it where it does.";

    private const string Link =
        "A link that was made for this person still opens the horse until its day. Take it back where they should see it no more.";

    /// <param name="notes">Those that were left.</param>
    /// <param name="letters">Of this person: they are erased.</param>
    public static async Task<IReadOnlyList<LeftBehind>> Find(
        IQuerySession session,
        Guid person,
        NameWords names,
        IReadOnlyList<Note> notes,
        IReadOnlyList<Guid> letters,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var left = new List<LeftBehind>();
        var naming = notes.Where(n => names.StandIn(n.Words)).ToList();
        var horses = naming.Count > 0 ? await HorsesOf(session, ct) : [];
        left.AddRange(
            naming.Select(n => new LeftBehind(
                NoteKind,
                n.Id,
                horses.TryGetValue(n.Id, out var horse) ? horse : null,
                names.Around(n.Words),
                Names
            ))
        );
        if (names.Names.Count > 0)
        {
            var comments = await session
                .Query<Comment>()
                .Where(c => c.PersonId != person && c.MatchesSql("d.data ->> 'words' ~* ?", names.ForPostgres))
                .ToListAsync(ct);
            left.AddRange(
                comments
                    .Where(c => names.StandIn(c.Words))
                    .Select(c => new LeftBehind(CommentKind, c.Id, c.HorseId, names.Around(c.Words), Names))
            );
            var others = await session
                .Query<LetterContent>()
                .Where(l => l.MatchesSql("d.data ->> 'text' ~* ?", names.ForPostgres))
                .Select(l => l.Id)
                .ToListAsync(ct);
            left.AddRange(
                others
                    .Except(letters)
                    .Select(l => new LeftBehind(
                        LetterKindName,
                        l,
                        null,
                        null,
                        "A letter to somebody else names this person. It is part of what that reader was told."
                    ))
            );
        }

        var sent = await session.Query<Letter>().CountAsync(l => l.To == person && l.SentAt != null && l.Through != Letter.AsFile, ct);
        if (sent > 0)
            left.Add(
                new LeftBehind(
                    "sent-letters",
                    null,
                    null,
                    $"{sent}",
                    "Letters that went out by mail lie in their reader's mailbox, and for a while with the mail server."
                )
            );
        foreach (var sharing in await session.Query<HorseSharing>().Where(s => s.MergedInto == null).ToListAsync(ct))
        {
            left.AddRange(
                sharing
                    .Links.Values.Where(l => l.PersonId == person && l.RevokedAt is null && l.EndsAt > now)
                    .Select(l => new LeftBehind("link", l.Id, sharing.HorseId, null, Link))
            );
        }

        return left;
    }

    /// <summary>What only a name could find: it is kept by its id, since the name is gone afterwards.</summary>
    public static ErasureRemainder Kept(Guid person, IEnumerable<LeftBehind> left, IReadOnlyList<Note> notes) =>
        new(
            person,
            [
                .. left.Where(l => l is { Id: not null, Kind: NoteKind or CommentKind or LetterKindName or Table })
                    .Select(l => new RemainingPlace(l.Kind, l.Id!.Value, l.HorseId, l.Why, notes.FirstOrDefault(n => n.Id == l.Id)?.At)),
            ],
            null
        );

    /// <summary>What was left earlier and is still there, with the words that it says. A note that was corrected since was
    /// looked at.</summary>
    public static async Task<IReadOnlyList<LeftBehind>> Again(
        IQuerySession session,
        IReadOnlyList<RemainingPlace> places,
        CancellationToken ct
    )
    {
        var left = new List<LeftBehind>();
        foreach (var place in places)
        {
            var (stands, words) = place.Kind switch
            {
                NoteKind => Said(await session.LoadAsync<Note>(place.Id, ct) is { } note && note.At == place.At ? note.Words : null),
                CommentKind => Said((await session.LoadAsync<Comment>(place.Id, ct))?.Words),
                LetterKindName => (await session.LoadAsync<LetterContent>(place.Id, ct) is not null, null),
                Table => Named(await session.LoadAsync<Import>(place.Id, ct)),
                _ => (false, null),
            };
            if (stands)
                left.Add(new LeftBehind(place.Kind, place.Id, place.HorseId, words, place.Why));
        }

        return left;

        static (bool, string?) Said(string? words) => (words is not null, words is null ? null : Nameless.Around(words));

        static (bool, string?) Named(Import? import) => (import?.File is not null, import?.Name);
    }

    /// <summary>At which horse each note stands.</summary>
    private static async Task<Dictionary<Guid, Guid>> HorsesOf(IQuerySession session, CancellationToken ct)
    {
        var found = new Dictionary<Guid, Guid>();
        foreach (
            var e in await session
                .Events.QueryWritten()
                .Where(e => e.EventTypeName == "care_noted" || e.EventTypeName == "visit_noted")
                .ToListAsync(ct)
        )
            found[
                e.Data switch
                {
                    CareNoted c => c.NoteId,
                    VisitNoted v => v.NoteId,
                    _ => throw UnknownEventException.In(nameof(Remains), e.Data),
                }
            ] = e.StreamId;
        foreach (
            var e in await session
                .Events.QueryWritten()
                .Where(e => e.EventTypeName == "reminder_answered_2" || e.EventTypeName == "reminder_answered")
                .ToListAsync(ct)
        )
            if (e.Data is ReminderAnswered { NoteId: { } note } answered)
                found[note] = answered.HorseId;
        return found;
    }
}
