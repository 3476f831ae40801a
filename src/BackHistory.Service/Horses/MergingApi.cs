using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Jobs;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Horses;

/// <param name="IntoId">The registration that stays.</param>
public sealed record HorseMergeRequest(Guid IntoId, string Reason);

/// <param name="IntoVisitId">The visit that stays.</param>
public sealed record VisitMergeRequest(Guid IntoVisitId, string Reason);

/// <summary>Merging what was entered twice, over HTTP.</summary>
public static class MergingApi
{
    public static void MapMerging(this IEndpointRouteBuilder api)
    {
        var horse = api.MapGroup("/horses/{horseId:guid}").WithTags("Corrections");
        horse
            .MapPost("/merge", Horse)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("This registration is a second one: its history goes on in the other")
            .Accepts<HorseMergeRequest>("application/json");
        horse
            .MapPost("/visits/{visitId:guid}/merge", Visit)
            .Needs<MergeVisits>()
            .WithSummary("This visit was entered twice: what only it holds goes into the other")
            .Accepts<VisitMergeRequest>("application/json");
    }

    private static async Task<IResult> Horse(
        HttpContext http,
        Merging merging,
        ChangeNotifier notifier,
        TimeProvider time,
        Guid horseId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<HorseMergeRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var (context, refused) = CommandRequest.Read(http, body, time);
        if (refused is not null)
            return Problems.Of(refused);
        return Answer(http, notifier, context!.Tenant, await merging.Horses(context, horseId, request!.IntoId, request.Reason, ct));
    }

    private static async Task<IResult> Visit(
        HttpContext http,
        CommandRunner runner,
        MergeVisits merge,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<VisitMergeRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        return await runner.Act(
            http,
            body,
            by => merge.Do(new MergeVisits.Input(horseId, visitId, request!.IntoVisitId, request.Reason), by, ct),
            version => Results.Ok(new Written(horseId, version))
        );
    }

    private static IResult Answer(HttpContext http, ChangeNotifier notifier, string practice, Outcome outcome)
    {
        if (outcome.Refused is { } no)
            return Problems.Of(no);
        notifier.SomethingHappened(practice);
        http.Response.Headers.ETag = $"\"{outcome.Version}\"";
        return Results.Ok(new Written(outcome.StreamId, outcome.Version));
    }
}
