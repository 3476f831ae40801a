using BackHistory.History.Store;
using BackHistory.Service.Access;

namespace BackHistory.Service.Archive;

/// <summary>How far what people read is behind what was recorded, over HTTP.</summary>
public static class ReadModelsApi
{
    public static void MapReadModels(this IEndpointRouteBuilder api) =>
        api.MapGet("/read-models", async (IWholeHistory whole, CancellationToken ct) => Results.Ok(await Rebuilding.Lag(whole, ct)))
            .RequireAuthorization(Policies.Manage).WithTags("Changes").WithSummary("How many events each read model has still to follow");
}
