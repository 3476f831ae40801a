using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Archives;

namespace BackHistory.Service.Archives;

/// <summary>The feed of changes for other software: events in order, after a cursor that the caller keeps.</summary>
public static class ChangesApi
{
    private const int Default = 100,
        Most = 1000;

    public static void MapChanges(this IEndpointRouteBuilder api) =>
        api.MapGet("/changes", Get)
            .RequireAuthorization(Policies.See)
            .WithTags("Changes")
            .WithSummary(
                "Events after a cursor, oldest first; filtered by type (repeat it) and horse. Without a cursor from the beginning"
            );

    private static async Task<IResult> Get(
        HttpContext http,
        Changes changes,
        string? after,
        int? limit,
        string[]? type,
        Guid? horse,
        CancellationToken ct
    )
    {
        var (cursor, bad) = Paging.Read<long>(after);
        if (bad is not null)
            return Problems.Of(bad);
        var types = type ?? [];
        if (types.FirstOrDefault(t => !Known.Contains(t)) is { } unknown)
            return Problems.Of(new Refused("unknown-type", $"'{unknown}' is no type of event; /api/schemas lists them.", Place: "type"));
        var size = Math.Clamp(limit ?? Default, 1, Most);
        var (events, next, more) = await changes.After(
            SignedIn.From(http.User).Practice,
            cursor ?? 0,
            new ChangeFilter(types, horse),
            size,
            ct
        );
        return Results.Ok(new ChangesAnswer(events, Paging.Write(next), more));
    }

    internal static readonly HashSet<string> Known = [.. EventSchemas.All().Keys];
}
