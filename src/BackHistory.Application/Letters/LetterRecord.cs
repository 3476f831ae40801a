using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;

namespace BackHistory.Application.Letters;

/// <summary>Writes down what became of a letter, on the stream that owes it.</summary>
public sealed class LetterRecord(Commands commands, TimeProvider time)
{
    public Task<Outcome> Sent(string practice, Letter letter, string messageId, string through, CancellationToken ct)
    {
        var command = new NoteLetterSent(letter.Id, messageId, through, ReminderPolicy.TheService);
        return Write(
            practice,
            letter,
            $"letter-sent:{letter.Id}",
            (r, now) => ReminderDecider.Decide(r, command, now),
            (b, now) => DigestDecider.Decide(b, command, now),
            ct
        );
    }

    public Task<Outcome> GaveUp(string practice, Letter letter, string why, CancellationToken ct)
    {
        var command = new GiveUpLetter(letter.Id, why, ReminderPolicy.TheService);
        return Write(
            practice,
            letter,
            $"letter-given-up:{letter.Id}",
            (r, now) => ReminderDecider.Decide(r, command, now),
            (b, now) => DigestDecider.Decide(b, command, now),
            ct
        );
    }

    /// <summary>The same word with the same text is the same report, however often it is read.</summary>
    public Task<Outcome> Noted(string practice, Letter letter, DeliveryWord word, string text, CancellationToken ct)
    {
        var command = new NoteDelivery(letter.Id, word, text, ReminderPolicy.TheService);
        var key = $"letter-noted:{DeterministicId.From(letter.Id.ToString(), word.ToString(), text)}";
        return Write(
            practice,
            letter,
            key,
            (r, now) => ReminderDecider.Decide(r, command, now),
            (b, now) => DigestDecider.Decide(b, command, now),
            ct
        );
    }

    private Task<Outcome> Write(
        string practice,
        Letter letter,
        string key,
        Func<Reminder?, DateTimeOffset, Decided> ofReminder,
        Func<Digest?, DateTimeOffset, Decided> ofDigest,
        CancellationToken ct
    )
    {
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, ReminderPolicy.TheService, key, "", null, now);
        return letter.ReminderId is { } reminder
            ? commands.Execute<Reminder>(context, reminder, r => ofReminder(r, now), ct)
            : commands.Execute<Digest>(context, letter.Id, b => ofDigest(b, now), ct);
    }
}
