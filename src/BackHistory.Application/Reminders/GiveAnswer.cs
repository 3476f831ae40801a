using System.Globalization;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store;
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
    IChangeNotifier changes,
    TimeProvider time
) : IAct
{
    /// <summary>Of the practice's people, who answer for somebody. A reader's right is the link or the share that they hold.</summary>
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId, Answer Answer, string? Words);

    /// <summary>Somebody of the practice says what they were told.</summary>
    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct) => Do(given, by.Context, by.Context.Actor, ct);

    /// <summary>The reader answers, by what lets them.</summary>
    /// <param name="reader">Their id where it is known, else <see cref="ReminderPolicy.TheReader"/>.</param>
    public async Task<Outcome> OfReader(string practice, Guid reader, Input given, CancellationToken ct)
    {
        var reminder = await reminders.Load(practice, given.ReminderId, ct);
        // Letters of earlier releases said "the vet has seen my horse" over a link that asked for a visit.
        if (given.Answer == Answer.Book && reminder is not null)
            given = given with { Answer = Answers.Offered(reminder.Rule)[0] };
        // Pressed twice, an answer is one; changed and changed back, each is heard.
        var version = (reminder?.Version ?? 0).ToString(CultureInfo.InvariantCulture);
        var key = $"answer:{given.ReminderId}:{version}:{given.Answer}";
        return await Do(given, new CommandContext(practice, reader, key, "", null, time.GetUtcNow()), reader, ct);
    }

    private async Task<Outcome> Do(Input given, CommandContext context, Guid by, CancellationToken ct)
    {
        DateOnly? later = null;
        if (given.Answer == Answer.Later && await practices.Load(context.Tenant, ct) is { } practice)
        {
            var zone = TimeZoneInfo.FindSystemTimeZoneById(practice.TimeZone);
            var today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(context.Now, zone).DateTime);
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
