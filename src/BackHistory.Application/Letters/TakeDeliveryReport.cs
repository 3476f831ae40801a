using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>What a mail server reports about a letter is written down with the letter.</summary>
public sealed class TakeDeliveryReport(ReminderQueries reminders, KnownPractices practices, LetterRecord record, IChangeNotifier changes)
    : IAct
{
    private static readonly Refused NotOurs = new("not-a-report", "This is no delivery-status message about a letter of this practice.");

    public static Right Needs => Right.Enter;

    /// <param name="Text">As the server said it, without anything personal.</param>
    public sealed record Input(Guid LetterId, DeliveryWord Word, string Text);

    /// <param name="report">Null when what was handed in is no report about a letter of this service.</param>
    public async Task<Outcome> Do(Input? report, Caller by, CancellationToken ct) =>
        report is not null && await Noted(by.Context.Tenant, report, ct) is { } outcome ? outcome : new Outcome(Guid.Empty, 0, 0, NotOurs);

    /// <summary>It came into the mailbox of all practices: the one that wrote the letter hears of it.</summary>
    /// <returns>False when no letter of ours is meant.</returns>
    public async Task<bool> FromMailbox(Input report, CancellationToken ct)
    {
        foreach (var practice in await practices.All(ct))
            if (await Noted(practice.Id, report, ct) is not null)
                return true;
        return false;
    }

    /// <returns>Null where the practice has no such letter.</returns>
    private async Task<Outcome?> Noted(string practice, Input report, CancellationToken ct)
    {
        if (await reminders.Letter(practice, report.LetterId, ct) is not { } letter)
            return null;
        // A word that teaches nothing new is refused by the letter's stream, and was taken all the same.
        var outcome = await record.Noted(practice, letter, report.Word, report.Text, ct);
        // Who cannot be reached does not answer: somebody else is told at the next evaluation.
        changes.SomethingHappened(practice);
        WorkMetrics.Letter(letter.Kind, report.Word.ToString().ToLowerInvariant());
        return outcome with { Refused = null };
    }
}
