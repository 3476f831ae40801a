using BackHistory.History.Reminders;
using BackHistory.Service.Jobs;
using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Reminders;

/// <summary>What readers of letters answer. Opening a link changes nothing (mail programs open links by themselves); the button
/// does.</summary>
public static class LetterAnswersApi
{
    public static void MapLetterAnswers(this WebApplication app)
    {
        // Open by nature: the sealed link is what lets its holder in, to this one thing. No cookie counts here, so there is nothing to
        // forge
        // (and a mail program that stops letters at one click, RFC 8058, has no token).
        app.MapPost("/letter/{token}", Take).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }

    private static async Task<IResult> Take(
        string token,
        [FromForm] string? words,
        [FromForm(Name = "List-Unsubscribe")] string? oneClick,
        AnswerLinks links,
        Commands commands,
        PracticeQueries practices,
        ReminderQueries reminders,
        Watchers watchers,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var link = links.Read(token);
        if (link is { Stop: { } kind, PersonId: { } personId })
            await Stop(link.Practice, personId, kind, practices, ct);
        else if (link is { ReminderId: { } id, Answer: { } answer })
            await Answer(link.Practice, id, answer, words, commands, practices, reminders, watchers, time, ct);
        // RFC 8058, section 3.1: a mail program's own request is answered here and sent nowhere else.
        if (oneClick is not null)
            return link is null ? Results.NotFound() : Results.Ok();
        return Results.LocalRedirect($"/letter/{Uri.EscapeDataString(token)}{(link is null ? "" : "?done=1")}");
    }

    private static Task Stop(string practice, Guid personId, LetterKind kind, PracticeQueries practices, CancellationToken ct) =>
        practices.Change(practice, personId, p => p.Stopped.Contains(kind) ? p : p with { Stopped = [.. p.Stopped, kind] }, ct);

    private static async Task Answer(
        string practice,
        Guid reminderId,
        Answer answer,
        string? words,
        Commands commands,
        PracticeQueries practices,
        ReminderQueries reminders,
        Watchers watchers,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (await practices.Load(practice, ct) is not { } known)
            return;
        var now = time.GetUtcNow();
        // Letters of earlier releases said "the vet has seen my horse" over a link that asked for a visit.
        if (answer == History.Reminders.Answer.Book && await reminders.Load(practice, reminderId, ct) is { } asked)
            answer = Answers.Offered(asked.Rule)[0];
        var later = LocalClock.Day(now, TimeZoneInfo.FindSystemTimeZoneById(known.TimeZone)).AddDays(known.ReminderRules.Letters.LaterDays);
        // The same answer given twice is one answer.
        var context = new CommandContext(practice, ReminderPolicy.TheReader, $"answer:{reminderId}:{answer}", "", null, now);
        var command = new AnswerReminder(answer, words, ReminderPolicy.TheReader, answer == History.Reminders.Answer.Later ? later : null);
        await commands.Execute<Reminder>(context, reminderId, r => ReminderDecider.Decide(r, command, now), ct);
        watchers.SomethingHappened(practice);
    }
}
