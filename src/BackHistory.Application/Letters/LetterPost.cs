using System.Net.Sockets;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using Microsoft.Extensions.Logging;

namespace BackHistory.Application.Letters;

/// <summary>
/// Sends the letters that a practice owes. In this order: compose and keep, send, record as sent. Killed after sending and before
/// recording, the same letter goes out once more under the same message id, and its reader's program shows one. What goes wrong with one
/// letter is that letter's: it is written down, tried again with growing pauses and given up in the end, and the next one goes out.
/// </summary>
public sealed class LetterPost(
    ReminderQueries reminders,
    PracticeQueries practices,
    LetterWriter writer,
    FirstLetters first,
    LetterRecord book,
    ArchiveIntake archives,
    IMailSender mail,
    AdvisoryLocks turns,
    TimeProvider time,
    ILogger<LetterPost> log
)
{
    private const string ReaderErased = "Its reader was erased.";

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    public async Task Send(string practice, CancellationToken ct)
    {
        // Whoever has the turn takes these letters along. Not the job library's own lock: that is a row which outlives a killed holder.
        await using var turn = await turns.TryTake($"letters:{practice}", ct);
        if (turn is null || await practices.Load(practice, ct) is not { } rules)
            return;
        var released = await first.MayLeave(practice, rules, ct);
        IMailTransport? post = null;
        try
        {
            // Named once: a letter that waits is not met again in this run, and one that comes to be owed meanwhile has a run of its own.
            var owed = await reminders.Owed(practice, ct);
            // Half of an archive says that a letter is owed, and its other half may say that it was sent.
            if (await archives.IsHalf(practice, ct))
                return;
            foreach (var id in owed)
            {
                ct.ThrowIfCancellationRequested();
                try
                {
                    if (await reminders.Letter(practice, id, ct) is { State: LetterState.Owed or LetterState.Deferred } letter)
                        post = await Go(practice, rules, letter, released, post, ct);
                }
                catch (Exception e) when (e is not OperationCanceledException && !Unreachable(e))
                {
                    // Not even what became of it can be written down: the next one goes out all the same.
                    log.LogError("Nothing could be noted of a letter: {Letter}, {Kind}", id, e.GetType().Name);
                }
            }
        }
        catch (Exception e) when (Unreachable(e))
        {
            // The way out is closed for all of them: the recurring job tries again.
            log.LogWarning(e, "The mail server cannot be reached; letters wait.");
        }
        finally
        {
            if (post is not null)
                await post.DisposeAsync();
        }
    }

    /// <returns>The way out, opened when the first letter needs it.</returns>
    private async Task<IMailTransport?> Go(
        string practice,
        History.Practices.Practice rules,
        Letter letter,
        bool released,
        IMailTransport? post,
        CancellationToken ct
    )
    {
        try
        {
            if (await Ready(practice, rules, letter, released, ct) is not { } content)
                return post;
            post ??= await mail.Open(ct);
            var through = await post.Send(content, rules.Name, ct);
            await book.Sent(practice, letter, mail.MessageIdOf(letter.Id), through, ct);
            WorkMetrics.Letter(letter.Kind, "sent");
        }
        catch (MailRefusedException e)
        {
            await Failed(practice, letter, $"The mail server refused it: {e.Status}.", e.Final, ct);
        }
        catch (Exception e) when (e is not OperationCanceledException && !Unreachable(e))
        {
            // The message of an exception may hold a name or an address; its kind and its place do not.
            log.LogError(
                "A letter could not be written: {Letter}, {Kind}{NewLine}{Place}",
                letter.Id,
                e.GetType().Name,
                Environment.NewLine,
                e.StackTrace
            );
            await Failed(practice, letter, $"It could not be written: {e.GetType().Name}.", final: false, ct);
        }

        return post;
    }

    /// <summary>The letter as it is to be sent now; null when it waits, or is not needed any more.</summary>
    private async Task<LetterContent?> Ready(
        string practice,
        History.Practices.Practice rules,
        Letter letter,
        bool released,
        CancellationToken ct
    )
    {
        var verdict = LetterGate.Judge(
            rules,
            letter,
            letter.ReminderId is { } id ? await reminders.Load(practice, id, ct) : null,
            await practices.Person(practice, letter.To, ct),
            await reminders.Attempts(practice, letter.Id, ct),
            released,
            time.GetUtcNow()
        );
        if (verdict.Why is { } never)
            await GiveUp(practice, letter, never, ct);
        return verdict.MayLeave ? await Compose(practice, letter, ct) : null;
    }

    private async Task<LetterContent?> Compose(string practice, Letter letter, CancellationToken ct)
    {
        if (await reminders.Content(practice, letter.Id, ct) is { } kept)
            return kept;
        var (content, why) = await writer.Compose(practice, letter, ct);
        if (content is null)
        {
            await GiveUp(practice, letter, why!, ct);
            return null;
        }

        if (await reminders.Keep(practice, letter.To, content, ct))
            return content;
        await GiveUp(practice, letter, ReaderErased, ct);
        return null;
    }

    /// <summary>A passing failure is tried again with growing pauses, a final one is given up and shown.</summary>
    private async Task Failed(string practice, Letter letter, string why, bool final, CancellationToken ct)
    {
        var attempts = LetterAttempts.After(await reminders.Attempts(practice, letter.Id, ct), letter.Id, why, time.GetUtcNow());
        if (final || attempts.Count >= LetterAttempts.Most)
        {
            await GiveUp(practice, letter, final ? why : $"Given up after {attempts.Count} attempts. {why}", ct);
            return;
        }

        await reminders.Keep(practice, attempts, ct);
        await book.Noted(practice, letter, DeliveryWord.Deferred, $"Attempt {attempts.Count} failed. {why}", ct);
        WorkMetrics.Letter(letter.Kind, "deferred");
    }

    private Task GiveUp(string practice, Letter letter, string why, CancellationToken ct)
    {
        WorkMetrics.Letter(letter.Kind, "given up");
        return book.GaveUp(practice, letter, why, ct);
    }

    /// <summary>Nothing is wrong with the letter: no letter would get through now.</summary>
    private static bool Unreachable(Exception e) =>
        e is MailUnreachableException or IOException or TimeoutException or SocketException || DatabaseHealth.IsPassing(e);
}
