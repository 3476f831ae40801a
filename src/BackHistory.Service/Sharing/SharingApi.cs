using BackHistory.Application.Sharing;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Sharing;

namespace BackHistory.Service.Sharing;

/// <summary>Sharing one horse with people outside the practice, over HTTP.</summary>
public static class SharingApi
{
    public static void MapSharing(this IEndpointRouteBuilder api)
    {
        var sharing = api.MapGroup("/horses/{horseId:guid}/sharing").WithTags("Sharing");
        sharing
            .MapGet("/", List)
            .RequireAuthorization(Policies.See)
            .WithSummary("Who outside the practice sees this horse, and who gave it");
        sharing.MapGet("/comments", Comments).RequireAuthorization(Policies.See).WithSummary("What they wrote, newest first");
        sharing
            .MapPost("/grants", Grant)
            .Needs<ShareHorse>()
            .WithSummary("Let a person see this horse")
            .Accepts<GrantRequest>("application/json");
        sharing
            .MapPost("/grants/{grantId:guid}/take-back", TakeBackGrant)
            .Needs<TakeBackShare>()
            .WithSummary("Take it back")
            .Accepts<TakeBackRequest>("application/json");
        sharing
            .MapPost("/links", Link)
            .Needs<ShareHorseByLink>()
            .WithSummary("Make a link that shows this horse")
            .Accepts<LinkRequest>("application/json");
        sharing
            .MapPost("/links/{linkId:guid}/take-back", TakeBackLink)
            .Needs<TakeBackShare>()
            .WithSummary("Take a link back")
            .Accepts<TakeBackRequest>("application/json");
    }

    private static async Task<IResult> List(
        HttpContext http,
        SharingQueries queries,
        HorseQueries horses,
        PracticeQueries practices,
        SharedLinks links,
        Guid horseId,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var who = SignedIn.From(http.User);
        if (await horses.Load(who.Practice, horseId, ct) is not { } horse)
            return Problems.Of(HorseRefusals.NoSuchHorse);
        var shared = await queries.Load(who.Practice, horseId, ct);
        // A second registration is shared no more by itself: what holds stands with the one that stayed.
        if (shared is not null && shared.HorseId != horseId && await horses.Load(who.Practice, shared.HorseId, ct) is { } stayed)
            (horseId, horse) = (stayed.Id, stayed);
        http.Response.Headers.ETag = $"\"{shared?.Version ?? 0}\"";
        if (shared is null)
            return Results.Ok(new SharingAnswer(horseId, [], []));
        var today = PracticeClock.Today((await practices.Load(who.Practice, ct))!, time);
        var now = time.GetUtcNow();
        var urls = who.Role >= BackHistory.Store.Accounts.PracticeRole.Manager;
        return Results.Ok(
            new SharingAnswer(
                horseId,
                [
                    .. shared
                        .Grants.Values.OrderByDescending(g => g.GivenAt)
                        .Select(g => new GrantAnswer(
                            g.Id,
                            g.PersonId,
                            g.Role,
                            g.Scope,
                            g.MayComment,
                            g.Until,
                            g.GivenAt,
                            g.GivenBy,
                            g.RevokedAt,
                            g.Holds(today, horse.OwnerId)
                        )),
                ],
                [
                    .. shared
                        .Links.Values.OrderByDescending(l => l.MadeAt)
                        .Select(l => new LinkAnswer(
                            l.Id,
                            l.PersonId,
                            l.Role,
                            l.Scope,
                            l.MayComment,
                            l.BindsToDevice,
                            l.BoundAt,
                            l.EndsAt,
                            l.MadeAt,
                            l.MadeBy,
                            l.RevokedAt,
                            l.Holds(now, horse.OwnerId),
                            urls && l.Holds(now, horse.OwnerId) ? links.Url(who.Practice, horseId, l.Id) : null
                        )),
                ]
            )
        );
    }

    private static async Task<IResult> Comments(
        HttpContext http,
        SharingQueries queries,
        HorseQueries horses,
        Guid horseId,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        return await horses.Load(practice, horseId, ct) is null
            ? Problems.Of(HorseRefusals.NoSuchHorse)
            : Results.Ok(await queries.Comments(practice, horseId, 200, ct));
    }

    private static Task<IResult> Grant(HttpContext http, CommandRunner runner, ShareHorse share, Guid horseId, CancellationToken ct)
    {
        var id = NewIds.Of(http, "grant");
        return runner.Act<GrantRequest>(
            http,
            (r, by) => share.Do(Of(horseId, id, r), by, ct),
            outcome => Created(horseId, new Shared(id, outcome.Version))
        );
    }

    private static Task<IResult> Link(
        HttpContext http,
        CommandRunner runner,
        ShareHorseByLink share,
        SharedLinks links,
        Guid horseId,
        CancellationToken ct
    )
    {
        var id = NewIds.Of(http, "link");
        return runner.Act<LinkRequest>(
            http,
            (r, by) => share.Do(Of(horseId, id, r), by, ct),
            outcome => Created(horseId, new Shared(id, outcome.Version, links.Url(SignedIn.From(http.User).Practice, horseId, id)))
        );
    }

    private static ShareHorse.Input Of(Guid horseId, Guid id, GrantRequest r) =>
        new(horseId, id, new Recipient.Known(r.PersonId), r.Role, r.Scope, r.MayComment, r.Until);

    private static ShareHorseByLink.Input Of(Guid horseId, Guid id, LinkRequest r) =>
        new(horseId, id, r.PersonId, r.Role, r.Scope, r.MayComment, r.BindsToDevice ?? false, r.Days);

    private static IResult Created(Guid horseId, Shared made) => Results.Created($"/api/horses/{horseId}/sharing", made);

    private static Task<IResult> TakeBackGrant(
        HttpContext http,
        CommandRunner runner,
        TakeBackShare takeBack,
        Guid horseId,
        Guid grantId,
        CancellationToken ct
    ) =>
        runner.Act<TakeBackRequest>(
            http,
            (r, by) => takeBack.Do(new TakeBackShare.Input(horseId, ShareKind.Grant, grantId, r.Reason), by, ct),
            outcome => Results.Ok(new Shared(grantId, outcome.Version))
        );

    private static Task<IResult> TakeBackLink(
        HttpContext http,
        CommandRunner runner,
        TakeBackShare takeBack,
        Guid horseId,
        Guid linkId,
        CancellationToken ct
    ) =>
        runner.Act<TakeBackRequest>(
            http,
            (r, by) => takeBack.Do(new TakeBackShare.Input(horseId, ShareKind.Link, linkId, r.Reason), by, ct),
            outcome => Results.Ok(new Shared(linkId, outcome.Version))
        );
}
