using System.Globalization;
using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Reminders;

/// <summary>What readers of letters answer. Opening a link changes nothing (mail programs open links by themselves); the button
/// does.</summary>
public static class LetterAnswersApi
{
    private const int LongestWords = 1000;

    public static void MapLetterAnswers(this WebApplication app)
    {
        // Open by nature: the sealed link is what lets its holder in, to this one thing. No cookie counts here, so there is nothing to
        // forge (and a mail program that stops letters at one click, RFC 8058, has no token).
        app.MapPost("/letter/{token}", Take).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
        app.MapPost("/letter/{token}/day", Move).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
        app.MapPost("/letter/{token}/cancel", Cancel).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }

    private static async Task<IResult> Take(
        string token,
        [FromForm] string? words,
        [FromForm] string? again,
        [FromForm(Name = "List-Unsubscribe")] string? oneClick,
        AnswerLinks links,
        GiveAnswer give,
        StopLetters stop,
        CancellationToken ct
    )
    {
        var link = await links.Read(token, ct);
        var page = $"/letter/{Uri.EscapeDataString(token)}";
        if (link is { Stop: { } kind, PersonId: { } personId })
            await stop.ByLetter(link.Practice, new StopLetters.Input(personId, kind, again is not null && oneClick is null), ct);
        else if (
            link is { ReminderId: { } id, Answer: { } answer }
            && (await give.ByLetter(link.Practice, new GiveAnswer.Input(id, answer, words), ct)).Refused is not null
        )
            // It has ended while they wrote: nobody is thanked for what reaches nobody.
            return Results.LocalRedirect(
                string.IsNullOrWhiteSpace(words)
                    ? page
                    : $"{page}?said={Uri.EscapeDataString(links.Keep(words[..Math.Min(words.Length, 1000)]))}"
            );
        // RFC 8058, section 3.1: a mail program's own request is answered here and sent nowhere else.
        if (oneClick is not null)
            return link is null ? Results.NotFound() : Results.Ok();
        return Results.LocalRedirect($"{page}{(link is null or { Stop: not null } ? "" : "?done=1")}");
    }

    private static async Task<IResult> Move(string token, [FromForm] string? to, AnswerLinks links, MoveOwnVisit move, CancellationToken ct)
    {
        var page = $"/letter/{Uri.EscapeDataString(token)}";
        if (await links.Read(token, ct) is not { Move: true, ReminderId: { } reminder, PersonId: { } person } link)
            return Results.LocalRedirect(page);
        if (!DateTimeOffset.TryParseExact(to, "O", CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind, out var at))
            return Results.LocalRedirect($"{page}?not=choose");
        var outcome = await move.ByLetter(link.Practice, new MoveOwnVisit.Input(reminder, person, at.ToUniversalTime()), ct);
        return Results.LocalRedirect(outcome.Refused is null ? $"{page}?moved=1" : $"{page}?not=taken");
    }

    private static async Task<IResult> Cancel(
        string token,
        [FromForm] string? words,
        AnswerLinks links,
        CancelOwnVisit cancel,
        CancellationToken ct
    )
    {
        var page = $"/letter/{Uri.EscapeDataString(token)}";
        if (await links.Read(token, ct) is not { Move: true, ReminderId: { } reminder, PersonId: { } person } link)
            return Results.LocalRedirect(page);
        // The field takes no more; what somebody sends past it does not keep a visit that they do not want.
        var said = words?.Length > LongestWords ? words[..LongestWords] : words;
        var outcome = await cancel.ByLetter(link.Practice, new CancelOwnVisit.Input(reminder, person, said), ct);
        return Results.LocalRedirect(outcome.Refused is null ? $"{page}?cancelled=1" : $"{page}?cancel=1&not={outcome.Refused.Code}");
    }
}
