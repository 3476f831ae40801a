using System.Globalization;
using BackHistory.Application;
using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.WebUtilities;

namespace BackHistory.Service.Reminders;

/// <summary>The forms of the reminders' page: the same acts as the API's, and back to where the person was.</summary>
public static class ReminderForms
{
    private static readonly Refused NoDate = new("bad-date", "Give the day, and for a visit its hour.");

    private static readonly Refused UnknownAct = new(
        "unknown-act",
        "The page and the service do not understand each other; load the page again."
    );

    public static void MapReminderForms(this WebApplication app) =>
        app.MapPost("/reminders/{reminderId:guid}", Act).RequireAuthorization(Policies.Fit).ExcludeFromDescription();

    private static async Task<IResult> Act(
        HttpContext http,
        [AsParameters] ReminderFormActs acts,
        PracticeQueries practices,
        TimeProvider time,
        Guid reminderId,
        [FromForm] IFormCollection form,
        CancellationToken ct
    )
    {
        var who = SignedIn.From(http.User);
        var key = form["key"].ToString();
        var act = form["act"].ToString();
        var (context, bad) = CommandRequest.OfForm(http, $"reminder:{reminderId:N}:{act}:{key}", key, form, time);
        if (bad is not null)
            return Back(form, reminderId, null, bad.Message);
        // A form that does not say what it showed is answered as one that showed something else.
        context = context! with
        {
            Shown = form["shown"].ToString(),
        };
        var zone = await PracticeZone.ZoneOf(practices, who.Practice, ct);
        var refused = await Do(acts, act, reminderId, form, zone, new Caller(context, who.Role), key, ct);
        return (act, refused?.Code) switch
        {
            // What is asked first is asked on a page of its own, with what was typed.
            ("book", BookingClashes.Code or "bad-date" or "no-such-fitter") => AskOf(
                form,
                reminderId,
                "book",
                ["on", "at", "fitter", "tell"]
            ),
            ("tell-again", "written-lately") => AskOf(form, reminderId, "write-again", []),
            _ => Back(form, reminderId, act, refused?.Message),
        };
    }

    private static async Task<Refused?> Do(
        ReminderFormActs acts,
        string act,
        Guid id,
        IFormCollection form,
        TimeZoneInfo zone,
        Caller by,
        string key,
        CancellationToken ct
    )
    {
        var reason = form["reason"].ToString();
        var tell = form["tell"].Count > 0;
        DateOnly? on = DateOnly.TryParse(form["on"], CultureInfo.InvariantCulture, out var day) ? day : null;
        TimeOnly? at = TimeOnly.TryParse(form["at"], CultureInfo.InvariantCulture, out var hour) ? hour : null;
        if ((act == "book" && (on is null || at is null)) || (act == "put-off" && on is null))
            return NoDate;
        var done = act switch
        {
            "book" => acts.Arrange.Do(
                new(
                    id,
                    DeterministicId.From("booking", by.Context.Tenant, key),
                    ZoneClock.At(on!.Value, at!.Value, zone),
                    Id(form["fitter"]),
                    tell,
                    EvenSo: false
                ),
                by,
                ct
            ),
            "put-off" => acts.Postpone.Do(new(id, on!.Value, reason), by, ct),
            "cancel-booking" => acts.CallOff.Do(new(id, reason, tell), by, ct),
            "close" => acts.End.Do(new(id, reason), by, ct),
            "done" => acts.Done.Do(new(id), by, ct),
            "vet-cleared" => acts.Cleared.Do(new(id, form["words"].ToString()), by, ct),
            "tell-again" => acts.Again.Do(new(id, EvenSo: false), by, ct),
            "ask-vet" => acts.Consult.Do(new(id, Id(form["vet"]) ?? Guid.Empty), by, ct),
            _ => null,
        };
        return done is null ? UnknownAct : (await done).Refused;
    }

    private static Guid? Id(string? text) => Guid.TryParse(text, out var id) ? id : null;

    private static IResult AskOf(IFormCollection form, Guid id, string page, string[] typed) =>
        Results.LocalRedirect(
            QueryHelpers.AddQueryString(
                $"/reminders/{id}/{page}",
                typed
                    .Append("list")
                    .Where(form.ContainsKey)
                    .Select(f => new KeyValuePair<string, string?>(f, form[f].ToString()))
                    .Append(new("typed", "true"))
            )
        );

    private static IResult Back(IFormCollection form, Guid id, string? act, string? problem)
    {
        // The form names a list, never an address: nobody is sent elsewhere by it.
        var list = ReminderView.Back(form.ContainsKey("list") ? form["list"].ToString() : $"state={form["state"]}");
        var what = problem is null ? $"&done={Uri.EscapeDataString(act ?? "")}" : $"&problem={Uri.EscapeDataString(problem)}";
        return Results.LocalRedirect($"{list}{what}&of={id}{(problem is null ? "" : $"#r-{id:N}")}");
    }
}
