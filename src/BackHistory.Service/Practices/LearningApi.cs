using BackHistory.Application.Practices;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Trends.Rules;

namespace BackHistory.Service.Practices;

/// <summary>Learning over HTTP: what was learned, and the wish to learn anew.</summary>
public static class LearningApi
{
    private static readonly History.Refused NoSuchVersion = new(
        "no-such-version",
        "The rules never had this version.",
        History.RefusalKind.NotFound
    );

    public static void MapLearning(this IEndpointRouteBuilder api)
    {
        var practice = api.MapGroup("/practice").WithTags("Practice");
        practice
            .MapGet("/learned", Learned)
            .RequireAuthorization(Policies.See)
            .WithSummary("What the practice's horses and hands have taught, with its version");
        practice.MapPost("/learned", Learn).Needs<LearnAnew>().WithSummary("Learn anew in the background; it happens every week by itself");
        practice
            .MapGet("/rules/{version:int}", At)
            .RequireAuthorization(Policies.See)
            .WithSummary("The rules with what was learned as they stood at a version that a decision names");
    }

    private static async Task<IResult> Learned(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } known)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        return Results.Ok(
            new LearnedAnswer(
                known.RulesVersion,
                known.PriorsVersion,
                known.Priors,
                known.NoiseVersion,
                [
                    .. (known.Noise?.Measures ?? []).Select(m => new LearnedLayers(
                        m.Measure,
                        m.Station,
                        m.Method,
                        m.By,
                        known.Rules.NoiseOf(m.Measure)?.Percent ?? false,
                        m.Study.Trace,
                        m.Study.Visit,
                        m.Study.Person,
                        m.Study.Trace?.Df >= NoiseStudy.FewestDf || m.Study.Visit?.Df >= NoiseStudy.FewestDf
                    )),
                ]
            )
        );
    }

    private static async Task<IResult> Learn(HttpContext http, LearnAnew learn, TimeProvider time, CancellationToken ct)
    {
        if (Bodies.NotNothing(await Bodies.Read(http.Request, ct)) is { } unread)
            return Problems.From(unread);
        var (by, refused) = CommandRequest.Caller(http, time);
        if (refused is not null)
            return Problems.From(refused);
        learn.Do(new LearnAnew.Input(NewIds.IdFor(http, "learned")), by!);
        return Results.Accepted("/api/practice/learned");
    }

    private static async Task<IResult> At(HttpContext http, PracticeQueries practices, int version, CancellationToken ct) =>
        await practices.AtRules(SignedIn.From(http.User).Practice, version, ct) is { } then
            ? Results.Ok(new RulesAtVersion(then.RulesVersion, then.PriorsVersion, then.NoiseVersion, then.WatchBy()))
            : Problems.From(NoSuchVersion);
}
