using BackHistory.Application.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Me;

/// <summary>Keys for programs of one's own, in the practice where one is working. A key makes no keys: only a person does, who has just
/// proved who they are.</summary>
public static class KeysApi
{
    public static void MapKeys(this WebApplication app)
    {
        var keys = app.MapGroup("/me/keys")
            .RequireAuthorization(Policies.See)
            .RequireAuthorization(Policies.Fresh)
            .ExcludeFromDescription();
        keys.MapPost("/", MakeByForm);
        keys.MapPost("/end", EndByForm);
    }

    public static void MapMyKeys(this IEndpointRouteBuilder api)
    {
        var keys = api.MapGroup("/me/keys").WithTags("Keys for programs").RequireAuthorization(Policies.See);
        keys.MapGet("/", List).RequireAuthorization(Policies.Myself).WithSummary("Your keys here, with their last use");
        keys.MapPost("/", Make)
            .RequireAuthorization(Policies.Fresh)
            .WithSummary("Make a key; it is shown once")
            .Accepts<KeyRequest>("application/json");
        keys.MapDelete("/{keyId}", End).RequireAuthorization(Policies.Fresh).WithSummary("End a key at once");
    }

    private static async Task<IResult> List(HttpContext http, AccessKeys keys, CancellationToken ct) =>
        Results.Ok((await keys.KeysOf(Account(http), SignedIn.From(http.User).Practice, ct)).Select(k => KeyAnswer.From(k)).ToList());

    private static async Task<IResult> Make(HttpContext http, MakeAccessKey make, TimeProvider time, CancellationToken ct)
    {
        var (r, bad) = Bodies.As<KeyRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.From(bad);
        var made = await make.Do(InputFrom(http, r!), Callers.ByPress(http, time), ct);
        return made.Refused is { } no ? Problems.From(no) : Results.Created("/api/me/keys", KeyAnswer.From(made.Key!, made.Secret));
    }

    private static async Task<IResult> MakeByForm(
        HttpContext http,
        [FromForm] string? label,
        [FromForm] PracticeRole most,
        [FromForm] int days,
        MakeAccessKey make,
        FlashCodes flash,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var made = await make.Do(InputFrom(http, new KeyRequest(label ?? "", most, days)), Callers.ByPress(http, time), ct);
        if (made.Refused is { } no)
            return Results.LocalRedirect($"/me/keys?refused={no.Code}");
        flash.Keep(http, Account(http), [made.Secret!], "/me/keys");
        return Results.LocalRedirect("/me/keys");
    }

    private static async Task<IResult> End(HttpContext http, string keyId, EndAccessKey end, TimeProvider time, CancellationToken ct) =>
        await end.Do(new EndAccessKey.Input(Account(http), keyId), Callers.ByPress(http, time), ct) is { } no
            ? Problems.From(no)
            : Results.NoContent();

    private static async Task<IResult> EndByForm(
        HttpContext http,
        [FromForm] string? id,
        EndAccessKey end,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (id is { Length: 64 })
            await end.Do(new EndAccessKey.Input(Account(http), id), Callers.ByPress(http, time), ct);
        return Results.LocalRedirect("/me/keys?done=1");
    }

    private static MakeAccessKey.Input InputFrom(HttpContext http, KeyRequest r) => new(Account(http), r.Label, r.Most, r.Days);

    private static Guid Account(HttpContext http) => SessionEvents.AccountOf(http.User)!.Value;
}
