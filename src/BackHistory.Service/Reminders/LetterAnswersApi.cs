using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Store;
using BackHistory.Service.Jobs;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Reminders;

/// <summary>What readers of letters answer. Opening a link changes nothing (mail programs open links by themselves); the button does.</summary>
public static class LetterAnswersApi
{
    public static void MapLetterAnswers(this WebApplication app)
    {
        // Open by nature: the sealed link is what lets its holder in, to this one thing. No cookie counts here, so there is nothing to forge
        // (and a mail program that stops letters at one click, RFC 8058, has no token).
        app.MapPost("/letter/{token}", Take).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }

    private static async Task<IResult> Take(
        string token, [FromForm] string? words, AnswerLinks links, Commands commands, PracticeQueries practices, Watchers watchers, TimeProvider time, CancellationToken ct)
    {
        var link = links.Read(token);
        if (link is null) return Results.LocalRedirect($"/letter/{Uri.EscapeDataString(token)}");
        if (link is { Stop: { } kind, PersonId: { } personId })
        {
            if (await practices.Person(link.Practice, personId, ct) is { } person && !person.Stopped.Contains(kind))
                await practices.Save(link.Practice, [person with { Stopped = [.. person.Stopped, kind] }], ct);
        }
        else if (link is { ReminderId: { } id, Answer: { } answer })
        {
            var now = time.GetUtcNow();
            // The same answer given twice is one answer.
            var context = new CommandContext(link.Practice, ReminderPolicy.TheReader, $"answer:{id}:{answer}", "", null, now);
            await commands.Execute<Reminder>(context, id, r => ReminderDecider.Decide(r, new AnswerReminder(answer, words, ReminderPolicy.TheReader), now), ct);
            watchers.SomethingHappened(link.Practice);
        }

        return Results.LocalRedirect($"/letter/{Uri.EscapeDataString(token)}?done=1");
    }
}
