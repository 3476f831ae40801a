using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Reminders;

/// <summary>The forms of the reminders' page: the same actions as the API's, and back to where the person was.</summary>
public static class ReminderForms
{
    private static readonly Refused NoDate = new("bad-date", "Give the day, and for a visit its hour.");

    public static void MapReminderForms(this WebApplication app) =>
        app.MapPost("/reminders/{reminderId:guid}", Act).RequireAuthorization(Policies.Fit).ExcludeFromDescription();

    private static async Task<IResult> Act(
        HttpContext http,
        CommandRunner runner,
        ReminderActions actions,
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
        if (key.Length is 0 or > 100)
            return Back(form, reminderId, null, RequestRefusals.NoKey.Message);
        var zone = TimeZoneInfo.FindSystemTimeZoneById((await practices.Load(who.Practice, ct))?.TimeZone ?? "Etc/UTC");
        var asked = await Ask(actions, who.Practice, reminderId, act, key, form, zone, ct);
        var context = new CommandContext(
            who.Practice,
            who.PersonId,
            CallerKey.Of(who.PersonId, $"reminder:{reminderId:N}:{act}:{key}"),
            "",
            null,
            time.GetUtcNow(),
            http.TraceIdentifier
        );
        Refused? refused = null;
        await runner.Run<Reminder>(
            http,
            context,
            reminderId,
            (reminder, c) =>
            {
                var decided = asked.Decide(reminder, c);
                refused = decided.Refused;
                return decided;
            },
            (_, _) => Results.Empty
        );
        return Back(form, reminderId, act, refused?.Message);
    }

    private static async Task<Asked> Ask(
        ReminderActions actions,
        string practice,
        Guid id,
        string act,
        string key,
        IFormCollection form,
        TimeZoneInfo zone,
        CancellationToken ct
    )
    {
        var reason = form["reason"].ToString();
        var tell = form["tell"].Count > 0;
        DateOnly? on = DateOnly.TryParse(form["on"], CultureInfo.InvariantCulture, out var day) ? day : null;
        switch (act)
        {
            case "book":
                if (on is null || !TimeOnly.TryParse(form["at"], CultureInfo.InvariantCulture, out var at))
                    return Asked.No(NoDate);
                var fitter = Guid.TryParse(form["fitter"], out var f) ? f : (Guid?)null;
                return await actions.Book(
                    practice,
                    id,
                    DeterministicId.Of("booking", practice, key),
                    new BookRequest(PracticeClock.At(on.Value, at, zone), fitter, tell),
                    ct
                );
            case "put-off":
                return on is null ? Asked.No(NoDate) : await actions.PutOff(practice, new PutOffRequest(on.Value, reason), ct);
            case "cancel-booking":
                return await actions.CancelBooking(practice, id, new CancelBookingRequest(reason, tell), ct);
            case "close":
                return ReminderActions.Close(new CloseRequest(reason));
            case "done":
                return ReminderActions.Done();
            case "vet-cleared":
                return ReminderActions.VetCleared();
            case "tell-again":
                return await actions.TellAgain(practice, id, ct);
            case "ask-vet":
                return await actions.AskVet(practice, new AskVetRequest(Guid.TryParse(form["vet"], out var vet) ? vet : Guid.Empty), ct);
            default:
                return Asked.No(new Refused("unknown-act", "The page and the service do not understand each other; load the page again."));
        }
    }

    private static IResult Back(IFormCollection form, Guid id, string? act, string? problem)
    {
        // The form names a state, never an address: nobody is sent elsewhere by it.
        var state = Uri.EscapeDataString(form["state"].ToString());
        var what = problem is null ? $"&done={Uri.EscapeDataString(act ?? "")}" : $"&problem={Uri.EscapeDataString(problem)}";
        return Results.LocalRedirect($"/reminders?state={state}{what}&of={id}{(problem is null ? "" : $"#r-{id:N}")}");
    }
}
