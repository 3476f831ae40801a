using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Access;
using BackHistory.Service.Jobs;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.DryRuns;
using BackHistory.Trends.Rules;
using Hangfire;

namespace BackHistory.Service.Reminders;

/// <summary>The practice's reminder rules, whole, with the reason of the change.</summary>
public sealed record ReminderRulesRequest(ReminderRules Rules, string? Reason);

public sealed record ReminderRulesAnswer(int Version, ReminderRules Rules);

public sealed record ReminderRulesVersion(int Version, DateTimeOffset At, Guid By, string Reason, ReminderRules Rules);

/// <summary>Rules to be tried on the practice's own history.</summary>
/// <param name="Rules">Null takes those in force.</param>
/// <param name="Watch">Thresholds and bars; null takes those in force.</param>
/// <param name="From">Null is a year before <paramref name="To"/>.</param>
/// <param name="To">Null is today.</param>
/// <param name="Most">Horses to rehearse; null is all of them.</param>
public sealed record DryRunRequest(
    ReminderRules? Rules = null,
    WatchRules? Watch = null,
    DateOnly? From = null,
    DateOnly? To = null,
    int? Most = null
);

/// <summary>Which reminders are raised, and what other rules would have raised.</summary>
public static class ReminderRulesApi
{
    private static readonly Refused NoSuchDryRun = new(
        "no-such-dry-run",
        "There is no such dry run in this practice.",
        RefusalKind.NotFound
    );

    public static void MapReminderRules(this IEndpointRouteBuilder api)
    {
        var rules = api.MapGroup("/reminder-rules").WithTags("Reminder rules");
        rules.MapGet("/", Get).RequireAuthorization(Policies.See).WithSummary("The rules in force, with their version");
        rules
            .MapPut("/", Change)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Switch and tune the rules; every change is a version")
            .Accepts<ReminderRulesRequest>("application/json");
        rules.MapGet("/versions", Versions).RequireAuthorization(Policies.See).WithSummary("Every version, newest first");
        rules
            .MapPost("/dry-runs", Try)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Try rules on the practice's own history")
            .Accepts<DryRunRequest>("application/json");
        rules
            .MapGet("/dry-runs/{runId:guid}", Tried)
            .RequireAuthorization(Policies.See)
            .WithSummary("What they would have raised, for which horses, and which refits they would have preceded");
    }

    private static async Task<IResult> Get(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.Of(PracticeDecider.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Bodies.Answer(new ReminderRulesAnswer(practice.ReminderRulesVersion, practice.ReminderRules));
    }

    private static async Task<IResult> Change(HttpContext http, CommandRunner runner, PracticeQueries practices, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<ReminderRulesRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.Of(PracticeDecider.NoSuchPractice);
        return await runner.Run<History.Practices.Practice>(
            http,
            practice.Id,
            body,
            creates: false,
            (state, c) => PracticeDecider.Decide(state, new ChangeReminderRules(r!.Rules, r.Reason ?? "", c.Actor), c.Now),
            (outcome, _) => Results.Ok(new Practices.Made(outcome.StreamId))
        );
    }

    private static async Task<IResult> Versions(HttpContext http, PracticeQueries practices, CancellationToken ct) =>
        Results.Ok(
            (await practices.ReminderRulesVersions(SignedIn.From(http.User).Practice, ct)).Select(v => new ReminderRulesVersion(
                v.ReminderRulesVersion,
                v.TakenAt,
                v.By,
                v.Reason,
                v.Rules
            ))
        );

    private static async Task<IResult> Try(
        HttpContext http,
        PracticeQueries practices,
        DryRuns runs,
        IBackgroundJobClient jobs,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var (r, bad) = Bodies.As<DryRunRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.Of(bad);
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return Problems.Of(RequestRefusals.NoKey);
        var tenant = SignedIn.From(http.User).Practice;
        if (await practices.Load(tenant, ct) is not { } practice)
            return Problems.Of(PracticeDecider.NoSuchPractice);
        var to = r!.To ?? PracticeClock.Today(practice, time);
        var from = r.From ?? to.AddYears(-1);
        if (from >= to || from < to.AddYears(-5))
            return Problems.Of(new Refused("bad-date", "A dry run spans a day to five years.", Place: "from"));
        var (rules, watch) = (r.Rules ?? practice.ReminderRules, r.Watch ?? practice.Rules);
        if (PracticeDecider.ProblemOf(rules) is { } problem)
            return Problems.Of(new Refused("bad-rules", problem, Place: "rules"));
        if (PracticeDecider.ProblemOf(watch) is { } other)
            return Problems.Of(new Refused("bad-rules", other, Place: "watch"));
        var id = NewIds.Of(http, "dry-run");
        if (await runs.Load(tenant, id, ct) is null)
        {
            await runs.Ask(tenant, id, rules, watch, from, to, Math.Max(1, r.Most ?? int.MaxValue), ct);
            jobs.Enqueue<DryRunJob>(job => job.Run(tenant, id, CancellationToken.None));
        }

        return Results.Accepted($"/api/reminder-rules/dry-runs/{id}", new Practices.Made(id));
    }

    private static async Task<IResult> Tried(HttpContext http, DryRuns runs, Guid runId, CancellationToken ct) =>
        await runs.Load(SignedIn.From(http.User).Practice, runId, ct) is { } run ? Results.Ok(run) : Problems.Of(NoSuchDryRun);
}
