using BackHistory.History.Accounts;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Imports;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.History.Store;
using Marten;

namespace BackHistory.History.Erasing;

/// <param name="Letters">Ids of letters to this person: where they lie outside the database they go too.</param>
/// <param name="StillFound">Where the name still stands in this practice: words of others, which somebody has to look at.</param>
public sealed record Erased(int Notes, int Comments, int Attachments, IReadOnlyList<Guid> Letters, string? Email, bool Account, IReadOnlyList<FoundIn> StillFound);

/// <summary>
/// Erases what is known of a person. Events name people by an id that means nothing any more afterwards; horses, shapes and what was done stay. Asked
/// for again it erases what was missed.
/// </summary>
public sealed class Erasure(IDocumentStore store, IWholeHistory whole, Commands commands, NameSearch search)
{
    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    public async Task<(Erased? Erased, Refused? Refused)> Erase(CommandContext context, Guid personId, CancellationToken ct)
    {
        await using var session = store.LightweightSession(context.Tenant);
        var practice = await session.Query<Practice>().FirstOrDefaultAsync(ct);
        var person = await session.LoadAsync<Person>(personId, ct);
        if (practice is null || (person is null && !practice.Erased.Contains(personId))) return (null, NoSuchPerson);
        var names = new[] { person?.Name, person?.Email, person?.Phone, person?.Address }.OfType<string>().Where(n => n.Trim().Length >= NameSearch.Shortest).ToList();

        // First: killed after this, the person is known to be erased, and asking again finishes.
        var outcome = await commands.Execute<Practice>(context, practice.Id, p => PracticeDecider.Decide(p, new ErasePerson(personId, context.Actor), context.Now), ct);
        if (outcome.Refused is { } refused) return (null, refused);
        var letters = await Letters(session, personId, ct);
        var notes = await Notes(session, personId, letters, names, ct);
        var comments = await session.Query<Comment>().Where(c => c.PersonId == personId).ToListAsync(ct);
        var attachments = await Attachments(session, personId, ct);
        foreach (var letter in letters) session.Delete<LetterContent>(letter);
        foreach (var note in notes) session.Delete(note);
        foreach (var comment in comments) session.Delete(comment);
        foreach (var hash in attachments) FileTable.Erase(session, hash);
        await SpreadsheetsNotEntered(session, ct);
        // Last: until everything else is gone, the person's document says whom to look for.
        session.Delete<Person>(personId);
        await session.SaveChangesAsync(ct);
        var account = await SignIn(context.Tenant, personId, ct);
        var still = new List<FoundIn>();
        foreach (var name in names) still.AddRange(await search.In(context.Tenant, name, ct));
        return (new Erased(notes.Count, comments.Count, attachments.Count, letters, person?.Email, account, [.. still.GroupBy(f => f.Table, StringComparer.Ordinal).Select(g => new FoundIn(g.Key, g.Max(f => f.Rows)))]), null);
    }

    private static async Task<IReadOnlyList<Guid>> Letters(IQuerySession session, Guid person, CancellationToken ct)
    {
        var letters = await session.Query<Letter>().Where(l => l.To == person).Select(l => l.Id).ToListAsync(ct);
        var bulletins = await session.Query<Bulletin>().Where(b => b.To == person).Select(b => b.Id).ToListAsync(ct);
        return [.. letters, .. bulletins];
    }

    /// <summary>Words about the person, words that they wrote, answers to letters that went to them, and words that name them.</summary>
    private static async Task<IReadOnlyList<Note>> Notes(IQuerySession session, Guid person, IReadOnlyList<Guid> letters, IReadOnlyList<string> names, CancellationToken ct)
    {
        var wanted = letters.ToArray();
        var reminders = (await session.Query<Letter>().Where(l => l.Id.IsOneOf(wanted)).ToListAsync(ct)).Select(l => l.ReminderId).ToHashSet();
        var answers = (await session.Events.QueryAllRawEvents().Where(e => e.EventTypeName == "reminder_answered_2" || e.EventTypeName == "reminder_answered").ToListAsync(ct))
            .Where(e => reminders.Contains(e.StreamId)).Select(e => ((ReminderAnswered)e.Data).NoteId).OfType<Guid>().ToHashSet();
        var notes = await session.Query<Note>().ToListAsync(ct);
        return [.. notes.Where(n => n.By == person || n.About.Contains(person) || answers.Contains(n.Id) || names.Any(name => n.Words.Contains(name, StringComparison.OrdinalIgnoreCase)))];
    }

    /// <summary>Hashes of files in which the person can be seen or read, whether they are still shown or not.</summary>
    private static async Task<IReadOnlyList<string>> Attachments(IQuerySession session, Guid person, CancellationToken ct)
    {
        var attached = await session.Events.QueryAllRawEvents().Where(e => e.EventTypeName == "horse_file_attached" || e.EventTypeName == "saddle_file_attached").ToListAsync(ct);
        return [.. attached
            .Select(e => e.Data switch { HorseFileAttached d => d.File, SaddleFileAttached d => d.File, _ => null }).OfType<AttachedFile>()
            .Where(f => f.Shows.Contains(person)).Select(f => f.ContentHash).Distinct(StringComparer.Ordinal)];
    }

    /// <summary>A spreadsheet that waits may name anybody; it can be sent in again without the line.</summary>
    private static async Task SpreadsheetsNotEntered(IDocumentSession session, CancellationToken ct)
    {
        foreach (var import in await session.Query<Import>().Where(i => i.State == ImportState.SentIn && i.File != null).ToListAsync(ct))
        {
            FileTable.Erase(session, import.File!);
            session.Delete(import);
        }
    }

    /// <summary>The sign-in of this practice; the account itself when it opens nothing else.</summary>
    private async Task<bool> SignIn(string practice, Guid person, CancellationToken ct)
    {
        await using var session = whole.LightweightSession();
        session.DeleteWhere<Invitation>(i => i.Practice == practice && i.PersonId == person);
        var account = (await session.Query<Account>().ToListAsync(ct)).FirstOrDefault(a => a.Memberships.Exists(m => m.Practice == practice && m.PersonId == person));
        if (account is not null)
        {
            var left = account.Memberships.RemoveAll(m => m.Practice == practice && m.PersonId == person);
            var gone = left.IsEmpty && !account.Shared.Exists(g => g.Practice != practice);
            session.DeleteWhere<AccessKey>(k => k.AccountId == account.Id && (gone || k.Practice == practice));
            session.DeleteWhere<SignInSession>(s => s.AccountId == account.Id);
            if (gone)
            {
                session.Delete(account);
            }
            else
            {
                account.Memberships = left;
                account.Shared = account.Shared.RemoveAll(g => g.Practice == practice);
                if (account.Working == practice) account.Working = null;
                session.Store(account);
            }
        }

        await session.SaveChangesAsync(ct);
        return account is not null;
    }
}
