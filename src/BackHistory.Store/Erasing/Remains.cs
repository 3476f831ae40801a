using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Reminders;
using BackHistory.History.Sharing;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Store.Sharing;
using Marten;
using Marten.Linq.MatchesSql;

namespace BackHistory.Store.Erasing;

/// <summary>Looks for what an erasure leaves: words of others that name the person, and ways in that were made for them or by
/// them.</summary>
internal static class Remains
{
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
                "note",
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
                    .Select(c => new LeftBehind("comment", c.Id, c.HorseId, names.Around(c.Words), Names))
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
                        "letter",
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

        var feeds = await session.Query<CalendarFeed>().Where(f => f.MadeBy == person && f.RevokedAt == null).ToListAsync(ct);
        left.AddRange(
            feeds
                .Where(f => f.Fitter != person)
                .Select(f => new LeftBehind(
                    "calendar",
                    f.Id,
                    null,
                    f.Name,
                    "A calendar address that this person made shows visits of others. Revoke it where nobody else reads it."
                ))
        );
        return left;
    }

    /// <summary>At which horse each note stands.</summary>
    private static async Task<Dictionary<Guid, Guid>> HorsesOf(IQuerySession session, CancellationToken ct)
    {
        var found = new Dictionary<Guid, Guid>();
        foreach (
            var e in await session
                .Events.QueryAllRawEvents()
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
                .Events.QueryAllRawEvents()
                .Where(e => e.EventTypeName == "reminder_answered_2" || e.EventTypeName == "reminder_answered")
                .ToListAsync(ct)
        )
            if (e.Data is ReminderAnswered { NoteId: { } note } answered)
                found[note] = answered.HorseId;
        return found;
    }
}
