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
    KnownPractices known, ReminderQueries reminders, PracticeQueries practices, LetterWriter writer, ReaderClock clock, LetterRecord book, Postman postman, NpgsqlDataSource database, TimeProvider time, ILogger<LetterJob> log)
{
    private const int Batch = 100;
    private const int MostAttempts = 12;

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        // Whoever has the turn takes these letters along. Not the job library's own lock: that is a row which outlives a killed holder.
        await using var turn = await AdvisoryLock.TryTake(database, $"letters:{practice}", ct);
        if (turn is null) return;
        IPost? post = null;
        (DateTimeOffset At, Guid Id)? place = null;
        try
        {
            while (await reminders.Owed(practice, Batch, place, ct) is { Count: > 0 } owed)
            {
                foreach (var letter in owed)
                {
                    ct.ThrowIfCancellationRequested();
                    place = (letter.OwedAt, letter.Id);
                    if (await Ready(practice, letter, ct) is not { } content) continue;
                    post ??= await postman.Open(ct);
                    await Send(practice, letter, content, post, ct);
                }
            }
        }
        catch (Exception e) when (e is IOException or TimeoutException or ServiceNotConnectedException or System.Net.Sockets.SocketException or SmtpProtocolException)
        {
            // The way out is closed for all of them: the recurring job tries again.
            log.LogWarning(e, "The mail server cannot be reached; letters wait.");
        }
        finally
        {
            if (post is not null) await post.DisposeAsync();
        }
    }

    /// <summary>The letter as it is to be sent now; null when it waits, or is not needed any more.</summary>
    private async Task<LetterContent?> Ready(string practice, Letter letter, CancellationToken ct)
    {
        if (letter.ReminderId is { } id && await reminders.Load(practice, id, ct) is { } reminder)
        {
            if (LetterGate.Waits(reminder, letter.Kind)) return null;
            if (LetterGate.NotNeeded(reminder, letter.Id, letter.Kind) is { } why)
            {
                await GiveUp(practice, letter, why, ct);
                return null;
            }
        }

        if (await clock.QuietUntil(practice, letter.To, ct) is not null) return null;
        var content = await Compose(practice, letter, ct);
        return content is null || content.NotBefore > time.GetUtcNow() ? null : content;
    }

    private async Task<LetterContent?> Compose(string practice, Letter letter, CancellationToken ct)
    {
        if (await reminders.Content(practice, letter.Id, ct) is { } kept) return kept;
        var (content, why) = await writer.Compose(practice, letter, ct);
        if (content is null)
        {
            await GiveUp(practice, letter, why!, ct);
            return null;
        }

        await reminders.Keep(practice, content, ct);
        return content;
    }

    private async Task Send(string practice, Letter letter, LetterContent content, IPost post, CancellationToken ct)
    {
        var name = (await practices.Load(practice, ct))?.Name ?? "BackHistory";
        try
        {
            var through = await post.Send(postman.Message(content, name), ct);
            await book.Sent(practice, letter, postman.MessageIdOf(letter.Id), through, ct);
            JobMetrics.Letter(letter.Kind, "sent");
        }
        catch (SmtpCommandException e)
        {
            await Refused(practice, letter, content, e, ct);
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
            await GiveUp(practice, letter, $"The mail server refused it: {(int)e.StatusCode}.", ct);
            return;
        }

        var pause = TimeSpan.FromMinutes(Math.Min(240, Math.Pow(2, attempts)));
        await reminders.Keep(practice, content with { Attempts = attempts, NotBefore = time.GetUtcNow() + pause, LastError = $"{(int)e.StatusCode}" }, ct);
        await book.Noted(practice, letter, DeliveryWord.Deferred, $"The mail server would not take it now ({(int)e.StatusCode}); attempt {attempts}.", ct);
        JobMetrics.Letter(letter.Kind, "deferred");
    }

    private Task GiveUp(string practice, Letter letter, string why, CancellationToken ct)
    {
        JobMetrics.Letter(letter.Kind, "given up");
        return book.GaveUp(practice, letter, why, ct);
    }
}
