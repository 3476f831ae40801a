using BackHistory.Application.Horses;
using BackHistory.Application.Visits;
using BackHistory.Service.Access;
using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>Merging what was entered twice, over HTTP.</summary>
public static class MergingApi
{
    public static void MapMerging(this IEndpointRouteBuilder api)
    {
        var horse = api.MapGroup("/horses/{horseId:guid}").WithTags("Corrections");
        horse
            .MapPost("/merge", Horse)
            .Needs<MergeHorseRegistrations>()
            .WithSummary("This registration is a second one: its history goes on in the other")
            .Accepts<HorseMergeRequest>("application/json");
        horse
            .MapPost("/visits/{visitId:guid}/merge", Visit)
            .Needs<MergeVisits>()
            .WithSummary("This visit was entered twice: what only it holds goes into the other")
            .Accepts<VisitMergeRequest>("application/json");
    }

    private static Task<IResult> Horse(
        HttpContext http,
        CommandRunner runner,
        MergeHorseRegistrations merge,
        Guid horseId,
        CancellationToken ct
    ) =>
        runner.Act<HorseMergeRequest>(
            http,
            (r, by) => merge.Do(new MergeHorseRegistrations.Input(horseId, r.IntoId, r.Reason), by, ct),
            outcome => Results.Ok(new Written(outcome.StreamId, outcome.Version))
        );

    private static Task<IResult> Visit(
        HttpContext http,
        CommandRunner runner,
        MergeVisits merge,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    ) =>
        runner.Change<VisitMergeRequest>(
            http,
            horseId,
            (r, by) => merge.Do(new MergeVisits.Input(horseId, visitId, r.IntoVisitId, r.Reason), by, ct)
        );
}
