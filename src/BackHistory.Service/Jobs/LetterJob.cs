using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Store;
using Hangfire;
using MailKit;
using MailKit.Net.Smtp;
using Npgsql;

namespace BackHistory.Service.Jobs;

/// <summary>
/// Sends the letters that a practice owes. In this order: compose and keep, send, record as sent. Killed after sending and before recording, the same
/// letter goes out once more under the same message id, and its reader's program shows one.
/// </summary>
public sealed class LetterJob(
    ReminderQueries reminders, PracticeQueries practices, LetterWriter writer, Postman postman, Commands commands, NpgsqlDataSource database, TimeProvider time, ILogger<LetterJob> log)
{
    private const int Batch = 100;
    private const int MostAttempts = 12;

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        // Whoever has the turn takes these letters along. Not the job library's own lock: that is a row which outlives a killed holder.
        await using var turn = await AdvisoryLock.TryTake(database, $"letters:{practice}", ct);
        if (turn is null) return;
        while (true)
        {
            var owed = await reminders.Owed(practice, Batch, ct);
            var sent = 0;
            IPost? post = null;
            try
            {
                foreach (var letter in owed)
                {
                    ct.ThrowIfCancellationRequested();
                    var content = await Compose(practice, letter, ct);
                    if (content is null || content.NotBefore > time.GetUtcNow()) continue;
                    post ??= await postman.Open(ct);
                    if (await Send(practice, letter, content, post, ct)) sent++;
                }
            }
            catch (Exception e) when (e is IOException or TimeoutException or ServiceNotConnectedException or System.Net.Sockets.SocketException or SmtpProtocolException)
            {
                // The way out is closed for all of them: the recurring job tries again.
                log.LogWarning(e, "The mail server cannot be reached; {Owed} letters wait.", owed.Count);
                return;
            }
            finally
            {
                if (post is not null) await post.DisposeAsync();
            }

            if (sent == 0) return;
        }
    }

    private async Task<LetterContent?> Compose(string practice, Letter letter, CancellationToken ct)
    {
        if (await reminders.Content(practice, letter.Id, ct) is { } kept) return kept;
        var (content, why) = await writer.Compose(practice, letter, ct);
        if (content is null)
        {
            await Record(practice, letter, $"letter-given-up:{letter.Id}", (r, now) => ReminderDecider.Decide(r, new GiveUpLetter(letter.Id, why!, ReminderPolicy.TheService), now), ct);
            return null;
        }

        await reminders.Keep(practice, content, ct);
        return content;
    }

    private async Task<bool> Send(string practice, Letter letter, LetterContent content, IPost post, CancellationToken ct)
    {
        var name = (await practices.Load(practice, ct))?.Name ?? "BackHistory";
        try
        {
            var through = await post.Send(postman.Message(content, name), ct);
            await Record(
                practice, letter, $"letter-sent:{letter.Id}",
                (r, now) => ReminderDecider.Decide(r, new NoteLetterSent(letter.Id, postman.MessageIdOf(letter.Id), through, ReminderPolicy.TheService), now), ct);
            return true;
        }
        catch (SmtpCommandException e)
        {
            await Refused(practice, letter, content, e, ct);
            return false;
        }
    }

    /// <summary>The server refused this letter: a passing refusal is tried again with growing pauses, a final one is given up and shown.</summary>
    private async Task Refused(string practice, Letter letter, LetterContent content, SmtpCommandException e, CancellationToken ct)
    {
        var attempts = content.Attempts + 1;
        // A final word about the sender or the session is about this service's settings, not about the letter: it waits until they are put right.
        var final = (int)e.StatusCode >= 500 && e.ErrorCode is SmtpErrorCode.RecipientNotAccepted or SmtpErrorCode.MessageNotAccepted;
        if (final || attempts >= MostAttempts)
        {
            await Record(
                practice, letter, $"letter-given-up:{letter.Id}",
                (r, now) => ReminderDecider.Decide(r, new GiveUpLetter(letter.Id, $"The mail server refused it: {(int)e.StatusCode}.", ReminderPolicy.TheService), now), ct);
            return;
        }

        var pause = TimeSpan.FromMinutes(Math.Min(240, Math.Pow(2, attempts)));
        await reminders.Keep(practice, content with { Attempts = attempts, NotBefore = time.GetUtcNow() + pause, LastError = $"{(int)e.StatusCode}" }, ct);
    }

    private Task<History.Outcome> Record(string practice, Letter letter, string key, Func<Reminder?, DateTimeOffset, History.Decided> decide, CancellationToken ct)
    {
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, ReminderPolicy.TheService, key, "", null, now);
        return commands.Execute<Reminder>(context, letter.ReminderId, reminder => decide(reminder, now), ct);
    }
}
