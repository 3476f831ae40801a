using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store;
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
        StoreIdentity store,
        Progress progress,
        string? after,
        int? limit,
        string[]? type,
        Guid? horse,
        CancellationToken ct
    )
    {
        var (cursor, bad) = CursorOf(after);
        if (bad is not null)
            return Problems.From(bad);
        var here = await store.Current(ct);
        if (cursor is { Store: { } other } && other != here)
            return Problems.From(OtherStore);
        // What comes before that position was never waited for: whoever followed from there would be told nothing for good.
        if (cursor is { Position: var place } && (place < 0 || place > await progress.HandedOut(ct)))
            return Problems.From(Paging.NotOurs);
        var types = type ?? [];
        if (types.FirstOrDefault(t => !Known.Contains(t)) is { } unknown)
            return Problems.From(new Refused("unknown-type", $"'{unknown}' is no type of event; /api/schemas lists them.", Place: "type"));
        var size = Math.Clamp(limit ?? Default, 1, Most);
        var (events, next, more) = await changes.After(
            SignedIn.From(http.User).Practice,
            cursor?.Position ?? 0,
            new ChangeFilter(types, horse),
            size,
            ct
        );
        return Results.Ok(new ChangeFeedAnswer(events, Paging.Write((here, next)), more));
    }

    private static readonly Refused OtherStore = new(
        "other-store",
        "This cursor is of another store: a backup was put back since, or the practice moved here. Positions do not count over from there. "
            + "Follow again without 'after'; events keep their ids, so what you have already is known by them.",
        RefusalKind.Conflict,
        Place: "after"
    );

    /// <summary>Earlier releases gave out a position alone: it is taken for one of this store.</summary>
    private static (ChangeCursor? Cursor, Refused? Refused) CursorOf(string? after)
    {
        if (Paging.Read<long>(after) is { Refused: null } bare)
            return (bare.Cursor is { } position ? new ChangeCursor(null, position) : null, null);
        var (cursor, bad) = Paging.Read<(string Store, long Position)>(after);
        return (cursor is { } c ? new ChangeCursor(c.Store, c.Position) : null, bad);
    }

    internal static readonly HashSet<string> Known = [.. EventSchemas.All().Keys];
}
