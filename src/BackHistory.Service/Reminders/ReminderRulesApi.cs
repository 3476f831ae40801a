using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.DryRuns;

namespace BackHistory.Service.Reminders;

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
            .Needs<SetReminderRules>()
            .WithSummary("Switch and tune the rules; every change is a version")
            .Accepts<ReminderRulesRequest>("application/json");
        rules.MapGet("/versions", Versions).RequireAuthorization(Policies.See).WithSummary("Every version, newest first");
        rules
            .MapPost("/dry-runs", Try)
            .Needs<TryReminderRules>()
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
            return Problems.Of(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Bodies.Answer(new ReminderRulesAnswer(practice.ReminderRulesVersion, practice.ReminderRules));
    }

    private static Task<IResult> Change(HttpContext http, CommandRunner runner, SetReminderRules set, CancellationToken ct) =>
        runner.Act<ReminderRulesRequest>(
            http,
            (r, by) => set.Do(new SetReminderRules.Input(r.Rules, r.Reason ?? ""), by, ct),
            outcome => Results.Ok(new Practices.Made(outcome.StreamId))
        );

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

    private static Task<IResult> Try(HttpContext http, CommandRunner runner, TryReminderRules rules, CancellationToken ct)
    {
        var id = NewIds.Of(http, "dry-run");
        return runner.Save<DryRunRequest>(
            http,
            (r, by) => rules.Do(new TryReminderRules.Input(id, r.Rules, r.Watch, r.From, r.To, r.Most), by, ct),
            () => Results.Accepted($"/api/reminder-rules/dry-runs/{id}", new Practices.Made(id))
        );
    }

    private static async Task<IResult> Tried(HttpContext http, DryRuns runs, Guid runId, CancellationToken ct) =>
        await runs.Load(SignedIn.From(http.User).Practice, runId, ct) is { } run ? Results.Ok(run) : Problems.Of(NoSuchDryRun);
}
