using System.Globalization;
using BackHistory.Application;
using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Reminders;

/// <summary>A month of visits, proposed by yard within the fitters' working days.</summary>
public static class PlanApi
{
    private static readonly Refused BadMonth = new(
        "bad-month",
        "A month is written as 2026-12, and is this month or one of the next years.",
        Place: "month"
    );

    public static void MapPlan(this IEndpointRouteBuilder api)
    {
        var plan = api.MapGroup("/plan").WithTags("Plan");
        plan.MapGet("/", Propose)
            .RequireAuthorization(Policies.See)
            .WithSummary("A proposal for a month: open reminders and checks that fall due, by yard");
        plan.MapPost("/accept", Accept)
            .Needs<AcceptPlannedVisit>()
            .WithSummary("Book visits, at the proposed time or another")
            .Accepts<AcceptRequest>("application/json");
        plan.MapPost("/decline", Decline)
            .Needs<DeclinePlannedVisit>()
            .WithSummary("Not now: put off until a day, with the reason")
            .Accepts<DeclineRequest>("application/json");
    }

    public static void MapPlanForms(this WebApplication app) =>
        app.MapPost("/plan", Book).RequireAuthorization(Policies.Fit).ExcludeFromDescription();

    /// <summary><c>2026-12</c>; without one the month that is running. Null for what is no month, and for one that nobody plans.</summary>
    public static (int Year, int Month)? Month(string? text, DateOnly today) =>
        string.IsNullOrEmpty(text) ? (today.Year, today.Month)
        : DateOnly.TryParseExact(text, "yyyy-MM", CultureInfo.InvariantCulture, DateTimeStyles.None, out var month)
        && month.Year <= today.Year + Plausible.YearsAhead
            ? (month.Year, month.Month)
        : null;

    private static async Task<IResult> Propose(
        HttpContext http,
        MonthPlanner plans,
        PracticeQueries practices,
        TimeProvider time,
        string? month,
        CancellationToken ct
    )
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        if (Month(month, PracticeClock.Today(practice, time)) is not { } m)
            return Problems.From(BadMonth);
        return await plans.Propose(SignedIn.From(http.User).Practice, m.Year, m.Month, ct) is { } plan
            ? Results.Ok(
                new
                {
                    plan.From,
                    plan.To,
                    TimeZone = plan.Zone.Id,
                    plan.Proposal.Stops,
                    plan.Proposal.Unplaced,
                }
            )
            : Problems.From(BadMonth);
    }

    private static async Task<IResult> Accept(HttpContext http, AcceptPlannedVisit accept, TimeProvider time, CancellationToken ct)
    {
        var (r, bad) = Bodies.As<AcceptRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.From(bad);
        var key = http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' ');
        if (key.Length is 0 or > 100)
            return Problems.From(RequestRefusals.NoKey);
        if (r!.Visits is not { Count: > 0 and <= 500 })
            return Problems.From(new Refused("bad-visits", "Between 1 and 500 visits are booked at once.", Place: "visits"));
        var answers = new List<AcceptedVisit>();
        foreach (var v in r.Visits)
        {
            var (by, booking) = Visit(http, time, key, v.HorseId);
            var outcome = await accept.Do(new(v.HorseId, booking, v.At, v.FitterId), by, ct);
            answers.Add(new AcceptedVisit(v.HorseId, outcome.Refused is null ? outcome.StreamId : null, outcome.Refused));
        }

        return Results.Ok(answers);
    }

    private static async Task<IResult> Decline(HttpContext http, DeclinePlannedVisit decline, TimeProvider time, CancellationToken ct)
    {
        var (r, bad) = Bodies.As<DeclineRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.From(bad);
        var key = http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' ');
        if (key.Length is 0 or > 100)
            return Problems.From(RequestRefusals.NoKey);
        var by = By(http, time, $"plan-not:{key}:{r!.HorseId:N}");
        var outcome = await decline.Do(new(r.HorseId, r.Until, r.Reason ?? ""), by, ct);
        return outcome.Refused is { } no ? Problems.From(no) : Results.Ok(new ReminderWritten(outcome.StreamId, outcome.Version));
    }

    /// <summary>The page's form: every ticked row is booked at the day, hour and with the fitter that stand in it; a row's own button
    /// puts it off.</summary>
    private static async Task<IResult> Book(
        HttpContext http,
        AcceptPlannedVisit accept,
        DeclinePlannedVisit decline,
        BackHistory.Store.Practices.PracticeQueries practices,
        TimeProvider time,
        [FromForm] IFormCollection form,
        CancellationToken ct
    )
    {
        var who = SignedIn.From(http.User);
        var month = form["month"].ToString();
        var key = form["key"].ToString();
        if (key.Length is 0 or > 100 || await practices.Load(who.Practice, ct) is not { } practice)
            return Results.LocalRedirect("/plan");
        var zone = TimeZoneInfo.FindSystemTimeZoneById(practice.TimeZone);
        var (done, problem) = (0, (string?)null);
        var span = PlanSpan.Read(
            month,
            form["from"],
            int.TryParse(form["weeks"], CultureInfo.InvariantCulture, out var weeks) ? weeks : null,
            PracticeClock.Today(practice, time)
        );
        if (Guid.TryParse(form["not"], out var not))
        {
            var by = Showing(By(http, time, $"plan-not:{key}:{not:N}"), form, not);
            var outcome = await decline.Do(new(not, span.To.AddDays(1), "Not in the weeks that were planned."), by, ct);
            return Back(span, outcome.Refused is null ? "put-off" : null, outcome.Refused?.Message);
        }

        foreach (var horse in form["take"].Select(t => Guid.TryParse(t, out var id) ? id : (Guid?)null).OfType<Guid>())
        {
            if (
                !DateOnly.TryParse(form[$"on-{horse:N}"], CultureInfo.InvariantCulture, out var on)
                || !TimeOnly.TryParse(form[$"at-{horse:N}"], CultureInfo.InvariantCulture, out var at)
            )
                continue;
            var fitter = Guid.TryParse(form[$"by-{horse:N}"], out var f) ? f : (Guid?)null;
            var (by, booking) = Visit(http, time, key, horse);
            var given = new AcceptPlannedVisit.Input(horse, booking, ZoneClock.At(on, at, zone), fitter, EvenSo: false);
            var outcome = await accept.Do(given, Showing(by, form, horse), ct);
            if (outcome.Refused is null)
                done++;
            else
                problem = outcome.Refused.Message;
        }

        return Back(
            span,
            done > 0 ? done.ToString(CultureInfo.InvariantCulture) : null,
            problem ?? (done == 0 ? "Tick the visits that are to be booked." : null)
        );
    }

    /// <summary>One visit of a plan: what makes it the same when it comes twice, and the id of its booking.</summary>
    private static (Caller By, Guid Booking) Visit(HttpContext http, TimeProvider time, string key, Guid horse)
    {
        var one = $"plan:{key}:{horse:N}";
        var by = By(http, time, one);
        return (by, DeterministicId.From("booking", by.Context.Tenant, one));
    }

    private static Caller By(HttpContext http, TimeProvider time, string key)
    {
        var who = SignedIn.From(http.User);
        var context = new CommandContext(who.Practice, who.PersonId, CallerKey.KeyFor(who.PersonId, key), "", null, time.GetUtcNow());
        return new Caller(context, who.Role);
    }

    /// <summary>A row that does not say what it showed is answered as one that showed something else.</summary>
    private static Caller Showing(Caller by, IFormCollection form, Guid horse) =>
        by with
        {
            Context = by.Context with { Shown = form[$"shown-{horse:N}"].ToString() },
        };

    private static IResult Back(PlanSpan span, string? done, string? problem) =>
        Results.LocalRedirect(span.On("/plan", ("done", done), ("problem", problem)));
}
