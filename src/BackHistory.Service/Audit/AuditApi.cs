using BackHistory.Application.Reminders;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;
using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Audit;

/// <summary>Who saw and changed what, over HTTP.</summary>
public static class AuditApi
{
    public static void MapAudit(this IEndpointRouteBuilder api)
    {
        var audit = api.MapGroup("/audit").WithTags("Audit").RequireAuthorization(Policies.Administer);
        audit.MapGet("/seen", Seen).WithSummary("Who saw what, or was turned away, newest first; of one horse or of all");
        audit.MapGet("/changed", Changed).WithSummary("Who changed what, newest first; of one horse or of all");
        audit
            .MapGet("/set-aside", SetAside)
            .WithSummary("What was recorded and could not be worked out, oldest first; of one horse or of all");
    }

    private static async Task<IResult> Seen(
        HttpContext http,
        AuditBook book,
        Guid? horseId,
        string? after,
        int? limit,
        CancellationToken ct
    )
    {
        var (cursor, bad) = Paging.Read<(DateTimeOffset At, Guid Id)>(after);
        if (bad is not null)
            return Problems.From(bad);
        var size = Paging.Size(limit);
        return Results.Ok(
            Paging.Page(await book.Notes(SignedIn.From(http.User).Practice, horseId, cursor, size + 1, ct), size, n => (n.At, n.Id))
        );
    }

    private static async Task<IResult> SetAside(HttpContext http, SetAsideQueries aside, Guid? horseId, CancellationToken ct) =>
        Results.Ok(await aside.SetAsideIn(SignedIn.From(http.User).Practice, horseId, ct));

    private static async Task<IResult> Changed(
        HttpContext http,
        AuditBook book,
        PracticeQueries practices,
        Guid? horseId,
        string? after,
        int? limit,
        CancellationToken ct
    )
    {
        var (cursor, bad) = Paging.Read<long>(after);
        if (bad is not null)
            return Problems.From(bad);
        var (size, practice) = (Paging.Size(limit), SignedIn.From(http.User).Practice);
        var zone = await PracticeZone.ZoneOf(practices, practice, ct);
        return Results.Ok(
            Paging.Page(
                [.. (await book.Changes(practice, horseId, cursor, size + 1, ct)).Select(c => ChangeAnswer.From(c, zone))],
                size,
                c => c.Sequence
            )
        );
    }
}
