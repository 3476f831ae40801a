using BackHistory.Service.Access;

namespace BackHistory.Service.Find;

/// <summary>Finding over HTTP.</summary>
public static class FindApi
{
    public static void MapFind(this IEndpointRouteBuilder api) =>
        api.MapGet(
                "/find",
                async (HttpContext http, BackHistory.Store.Find find, string? q, CancellationToken ct) =>
                    Results.Ok(await find.ByText(SignedIn.From(http.User).Practice, q ?? "", ct))
            )
            .RequireAuthorization(Policies.See)
            .WithTags("Find")
            .WithSummary("Horses, owners, yards and saddles by a part of what they are called");
}
