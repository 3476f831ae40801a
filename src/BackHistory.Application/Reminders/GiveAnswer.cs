using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>
/// An answer to a reminder: that of whoever it was sent to, by the link of the letter or where the horse is shared with them, or what
/// they said to somebody of the practice. "Later" always leaves a day, from which they are reminded again.
/// </summary>
public sealed class GiveAnswer(
    Commands commands,
    PracticeQueries practices,
    ReminderQueries reminders,
    NoteQueries notes,
    IChangeNotifier changes,
    TimeProvider time
) : IAct
{
    /// <summary>Of the practice's people, who answer for somebody. A reader's right is the link or the share that they hold.</summary>
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId, Answer Answer, string? Words);

    /// <summary>Somebody of the practice says what they were told.</summary>
    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct) => Do(given, by.Context, by.Context.Actor, ct);

    /// <summary>The reader answers by the link in their letter.</summary>
    public async Task<Outcome> ByLetter(string practice, Input given, CancellationToken ct)
    {
        // What the letter was about may have ended by mistake and be open again: that one is answered.
        if (await Answerable(practice, given.ReminderId, ct) is { } open)
            given = given with { ReminderId = open.Id };
        // Letters of earlier releases said "the vet has seen my horse" over a link that asked for a visit.
        if (given.Answer == Answer.Book && await reminders.Load(practice, given.ReminderId, ct) is { } reminder)
            given = given with { Answer = Answers.Offered(reminder.Rule)[0] };
        return await ByReader(practice, ReminderPolicy.TheReader, given, ct);
    }

    /// <summary>What an answer to this reminder goes to: itself as long as it stands, else what was raised since on the same ground. Null
    /// when it is too late for any.</summary>
    public async Task<Reminder?> Answerable(string practice, Guid reminderId, CancellationToken ct) =>
        await reminders.Load(practice, reminderId, ct) is not { } about ? null
        : !about.Over ? about
        : (await reminders.OfHorse(practice, about.HorseId, ct)).LastOrDefault(r =>
            !r.Over
            && r.State != ReminderState.Pending
            && r.RaisedAt >= about.RaisedAt
            && Families.FamilyOf(r.Rule) == Families.FamilyOf(about.Rule)
            && r.SaddleId == about.SaddleId
        );

    /// <summary>The reader answers where the horse is shared with them.</summary>
    /// <param name="reader">Their id where it is known, else <see cref="ReminderPolicy.TheReader"/>.</param>
    public async Task<Outcome> ByReader(string practice, Guid reader, Input given, CancellationToken ct)
    {
        var reminder = await reminders.Load(practice, given.ReminderId, ct);
        // Changed and changed back, each answer is heard; two presses of one button meet the same version, or the answer as it stands.
        var version = (reminder?.Version ?? 0).ToString(CultureInfo.InvariantCulture);
        var key = $"answer:{given.ReminderId}:{version}:{given.Answer}";
        if (reminder is { AnswerNote: { } note } && reminder.Answer == given.Answer)
        {
            var said = await notes.Load(practice, [note], ct);
            if (said is [{ } before] && before.Words == given.Words?.Trim())
                given = given with { Words = null };
        }

        return await Do(given, new CommandContext(practice, reader, key, "", null, time.GetUtcNow()), reader, ct);
    }

    private async Task<Outcome> Do(Input given, CommandContext context, Guid by, CancellationToken ct)
    {
        DateOnly? later = null;
        if (given.Answer == Answer.Later && await practices.Load(context.Tenant, ct) is { } practice)
        {
            var today = PracticeClock.Day(practice, context.Now);
            later = today.AddDays(practice.ReminderRules.Letters.LaterDays);
        }

        var words = string.IsNullOrWhiteSpace(given.Words) ? null : given.Words;
        var command = new AnswerReminder(given.Answer, words, by, later);
        var outcome = await commands.Execute<Reminder>(
            context,
            given.ReminderId,
            reminder => ReminderDecider.Decide(reminder, command, context.Now),
            ct
        );
        if (outcome.Refused is null)
            changes.SomethingHappened(context.Tenant);
        return outcome;
    }
}
