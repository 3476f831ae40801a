using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Events;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Store.Sharing;
using Marten;

namespace BackHistory.Store.Erasing;

/// <summary>
/// Erases what is known of a person, by ids and never by words: in this practice, and of this person. Events name people by an id that
/// means nothing any more afterwards; horses, shapes and what was done stay. Where others wrote a name, it is offered to somebody who
/// reads it, also when asked again: what was left is kept by its ids. Asked for again it erases what was missed.
/// </summary>
public sealed class Erasure(IDocumentStore store, IWholeHistory whole, Commands commands, NameSearch search)
{
    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    /// <param name="elsewhere">What names the person and only others can read, for example tables that wait to be entered.</param>
    public async Task<(Erased? Erased, Refused? Refused)> Erase(
        CommandContext context,
        Guid personId,
        Func<NameWords, CancellationToken, Task<IReadOnlyList<LeftBehind>>> elsewhere,
        CancellationToken ct
    )
    {
        await using var session = store.LightweightSession(context.Tenant);
        var practice = await session.Query<Practice>().FirstOrDefaultAsync(ct);
        var person = await session.LoadAsync<Person>(personId, ct);
        if (practice is null || (person is null && !practice.Erased.Contains(personId)))
            return (null, NoSuchPerson);

        // First: killed after this, the person is known to be erased, and asking again finishes.
        var outcome = await commands.Execute<Practice>(
            context,
            practice.Id,
            p => PracticeDecider.Decide(p, new ErasePerson(personId, context.Actor), context.Now),
            ct
        );
        if (outcome.Refused is { } refused)
            return (null, refused);
        await TakeBackShares(session, context, personId, ct);
        var names = new NameWords([person?.Name, person?.Email, person?.Phone, person?.Address]);
        var letters = await Letters(session, personId, ct);
        var (theirs, either) = await Answers(session, personId, ct);
        var all = await session.Query<Note>().ToListAsync(ct);
        var notes = all.Where(n => n.By == personId || n.About.Contains(personId) || theirs.Contains(n.Id)).ToList();
        var comments = await session.Query<Comment>().Where(c => c.PersonId == personId).ToListAsync(ct);
        var attachments = await Attachments(session, personId, ct);
        var left = new List<LeftBehind>(await Remains.Find(session, personId, names, [.. all.Except(notes)], letters, context.Now, ct));
        left.AddRange(
            all.Except(notes)
                .Where(n => either.Contains(n.Id) && !left.Exists(l => l.Id == n.Id))
                .Select(n => new LeftBehind(
                    "answer",
                    n.Id,
                    null,
                    n.Words,
                    "An answer to letters that went to this person and to somebody else; either may have written it."
                ))
        );
        left.AddRange(await elsewhere(names, ct));
        var kept = await session.LoadAsync<ErasureRemainder>(personId, ct);
        // What is erased, is erased by the owner's role: the serving role may not.
        await using var erasing = whole.LightweightSession(context.Tenant);
        if (person is null && kept is not null)
            left.AddRange(await Remains.Again(session, [.. kept.Places.Where(p => !left.Exists(l => l.Id == p.Id))], ct));
        else
            erasing.Store(kept = Remains.Kept(personId, left, all));
        // Whoever keeps a letter to this person, or makes a calendar for them, does so before or finds nobody.
        await erasing.BeginTransactionAsync(ct);
        await erasing.QueryAsync<Person>("where d.id = ? and d.tenant_id = ? for update", ct, personId, context.Tenant);
        foreach (var letter in letters)
            erasing.Delete<LetterContent>(letter);
        foreach (var note in notes)
            erasing.Delete(note);
        foreach (var comment in comments)
            erasing.Delete(comment);
        foreach (var hash in attachments)
            FileTable.Erase(erasing, hash);
        erasing.DeleteWhere<CalendarFeed>(f => f.Fitter == personId || f.MadeBy == personId);
        // Last: until everything else is gone, the person's document says whom to look for.
        erasing.Delete<Person>(personId);
        await erasing.SaveChangesAsync(ct);
        var signIn = await new AccountErasure(whole).Erase(context.Tenant, personId, await Grants(session, personId, ct), ct);
        var found = kept.StillFound ?? await search.In(context.Tenant, names, ct);
        if (kept.StillFound is null && names.Names.Count > 0)
        {
            await using var after = store.LightweightSession(context.Tenant);
            after.Store(kept with { StillFound = found });
            await after.SaveChangesAsync(ct);
        }

        return (new Erased(notes.Count, comments.Count, attachments.Count, letters, signIn.Gone, signIn.Found, names, left, found), null);
    }

    /// <summary>Links that were made for this person, or by them, open nothing any more, and what they were let see is seen no more:
    /// each horse's own history says so.</summary>
    private async Task TakeBackShares(IQuerySession session, CommandContext context, Guid person, CancellationToken ct)
    {
        foreach (var sharing in await session.Query<HorseSharing>().Where(s => s.MergedInto == null).ToListAsync(ct))
        {
            foreach (var link in sharing.Links.Values.Where(l => (l.PersonId == person || l.MadeBy == person) && l.RevokedAt is null))
                await TakeBack(
                    sharing.HorseId,
                    link.Id,
                    s => SharingDecider.Decide(s, new RevokeLink(link.Id, null, context.Actor), context.Now)
                );
            foreach (var grant in sharing.Grants.Values.Where(g => g.PersonId == person && g.RevokedAt is null))
                await TakeBack(
                    sharing.HorseId,
                    grant.Id,
                    s => SharingDecider.Decide(s, new RevokeAccess(grant.Id, null, context.Actor), context.Now)
                );
        }

        Task TakeBack(Guid horse, Guid share, Func<HorseSharing?, Decided> decide) =>
            commands.Execute(
                context with
                {
                    Key = $"{context.Key} takes back {share:N}",
                    ExpectedVersion = null,
                },
                HorseSharing.IdOf(horse),
                decide,
                ct
            );
    }

    /// <summary>What this person was let see, whatever became of it.</summary>
    private static async Task<IReadOnlySet<Guid>> Grants(IQuerySession session, Guid person, CancellationToken ct) =>
        (await session.Query<HorseSharing>().ToListAsync(ct))
            .SelectMany(s => s.Grants.Values)
            .Where(g => g.PersonId == person)
            .Select(g => g.Id)
            .ToHashSet();

    private static async Task<IReadOnlyList<Guid>> Letters(IQuerySession session, Guid person, CancellationToken ct)
    {
        var letters = await session.Query<Letter>().Where(l => l.To == person).Select(l => l.Id).ToListAsync(ct);
        var digests = await session.Query<Digest>().Where(b => b.To == person).Select(b => b.Id).ToListAsync(ct);
        return [.. letters, .. digests];
    }

    /// <summary>Notes that answer letters: an answer says to which reminder, and not by whom. Where others were asked too, it is not
    /// known whose it is.</summary>
    private static async Task<(IReadOnlySet<Guid> Theirs, IReadOnlySet<Guid> Either)> Answers(
        IQuerySession session,
        Guid person,
        CancellationToken ct
    )
    {
        var asked = Asked(await session.Query<Letter>().Where(l => l.To == person && l.ReminderId != null).ToListAsync(ct));
        if (asked.Count == 0)
            return (asked, asked);
        Guid?[] wanted = [.. asked.Select(r => (Guid?)r)];
        var others = Asked(await session.Query<Letter>().Where(l => l.To != person && l.ReminderId.IsOneOf(wanted)).ToListAsync(ct));
        var answers = (
            await session
                .Events.QueryWritten()
                .Where(e => e.EventTypeName == "reminder_answered_2" || e.EventTypeName == "reminder_answered")
                .ToListAsync(ct)
        )
            .Where(e => asked.Contains(e.StreamId))
            .Select(e => (Reminder: e.StreamId, Note: ((ReminderAnswered)e.Data).NoteId))
            .Where(a => a.Note is not null)
            .ToLookup(a => others.Contains(a.Reminder), a => a.Note!.Value);
        return (answers[false].ToHashSet(), answers[true].ToHashSet());

        static HashSet<Guid> Asked(IEnumerable<Letter> letters) =>
            [.. letters.Where(l => LettersOf.Owner(l.Kind)).Select(l => l.ReminderId).OfType<Guid>()];
    }

    /// <summary>Hashes of files in which the person can be seen or read, whether they are still shown or not.</summary>
    private static async Task<IReadOnlyList<string>> Attachments(IQuerySession session, Guid person, CancellationToken ct)
    {
        var attached = await session
            .Events.QueryWritten()
            .Where(e => e.EventTypeName == "horse_file_attached" || e.EventTypeName == "saddle_file_attached")
            .ToListAsync(ct);
        return
        [
            .. attached
                .Select(e =>
                    e.Data switch
                    {
                        HorseFileAttached d => d.File,
                        SaddleFileAttached d => d.File,
                        _ => throw UnknownEventException.In(nameof(Erasure), e.Data),
                    }
                )
                .OfType<AttachedFile>()
                .Where(f => f.Shows.Contains(person))
                .Select(f => f.ContentHash)
                .Distinct(StringComparer.Ordinal),
        ];
    }
}
