using BackHistory.Application.Practices;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Trends;

/// <summary>Thresholds and intervals over HTTP. Every default is a rule of thumb that the practice may change.</summary>
public static class ThresholdsApi
{
    public static void MapThresholds(this IEndpointRouteBuilder api)
    {
        var rules = api.MapGroup("/thresholds").WithTags("Thresholds");
        rules.MapGet("/", Get).RequireAuthorization(Policies.See).WithSummary("The rules that the practice watches by");
        rules.MapPut("/", Change).Needs<SetThresholds>().WithSummary("Change the rules").Accepts<RulesRequest>("application/json");
    }

    private static async Task<IResult> Get(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        var practice = await practices.Load(SignedIn.From(http.User).Practice, ct);
        if (practice is null)
            return Problems.Of(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Bodies.Answer(new RulesAnswer(practice.RulesVersion, practice.Rules));
    }

    private static Task<IResult> Change(HttpContext http, CommandRunner runner, SetThresholds set, CancellationToken ct) =>
        runner.Act<RulesRequest>(
            http,
            (r, by) => set.Do(new SetThresholds.Input(r.Rules, r.Reason), by, ct),
            outcome => Results.Ok(new Practices.Made(outcome.StreamId))
        );
}
