using BackHistory.Application.Archives;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Archives;

/// <summary>How far what people read is behind what was recorded, and building it anew, over HTTP.</summary>
public static class ReadModelsApi
{
    public static void MapReadModels(this IEndpointRouteBuilder api)
    {
        var models = api.MapGroup("/read-models").WithTags("Changes");
        models
            .MapGet("/", Get)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("How many events each read model has still to follow, and how far a rebuild has got");
        models
            .MapPost("/rebuild", Rebuild)
            .Needs<RebuildReadModels>()
            .WithSummary("Build what is read of this practice's horses anew, in the background and without a gap");
    }

    private static async Task<IResult> Get(
        HttpContext http,
        IWholeHistory whole,
        PracticeQueries practices,
        SetAsideQueries aside,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        var lag = await Rebuilding.Lag(whole, ct);
        return Results.Ok(new ReadModelsAnswer(lag, await practices.Rebuild(practice, ct), await aside.Of(practice, null, ct)));
    }

    private static async Task<IResult> Rebuild(HttpContext http, RebuildReadModels act, TimeProvider time, CancellationToken ct)
    {
        if (Bodies.NotNothing(await Bodies.Read(http.Request, ct)) is { } unread)
            return Problems.Of(unread);
        var (by, bad) = CommandRequest.Caller(http, time);
        if (bad is not null)
            return Problems.Of(bad);
        act.Do(by!);
        return Results.Accepted("/api/read-models");
    }
}
