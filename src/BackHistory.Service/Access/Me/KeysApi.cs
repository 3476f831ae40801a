using BackHistory.History;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Audit;
using BackHistory.Service.Web;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Me;

/// <param name="Most">What the key may do at most: read-only, apprentice (enter), fitter or manager; never more than its owner.</param>
/// <param name="Days">1 to 365.</param>
public sealed record KeyRequest(string Label, PracticeRole Most, int Days);

/// <param name="Key">Shown once, when it is made.</param>
public sealed record KeyAnswer(
    string Id,
    string Label,
    PracticeRole Most,
    DateTimeOffset MadeAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? LastUsed,
    string? Key = null
)
{
    internal static KeyAnswer Of(AccessKey k, string? secret = null) =>
        new(k.Id, k.Label, k.Most, k.MadeAt, k.ExpiresAt, k.LastUsed, secret);
}

/// <summary>Keys for programs of one's own, in the practice where one is working. A key makes no keys: only a person does, who has just
/// proved who they are.</summary>
public static class KeysApi
{
    private const int MostKeys = 50;

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
        Results.Ok((await keys.Of(Account(http), SignedIn.From(http.User).Practice, ct)).Select(k => KeyAnswer.Of(k)).ToList());

    private static async Task<IResult> Make(
        HttpContext http,
        AccessKeys keys,
        AccountPost post,
        AuditTrail audit,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var (r, bad) = Bodies.As<KeyRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.Of(bad);
        var (secret, key, refused) = await Create(http, r!, keys, post, audit, time, ct);
        return refused is not null ? Problems.Of(refused) : Results.Created("/api/me/keys", KeyAnswer.Of(key!, secret));
    }

    private static async Task<IResult> MakeByForm(
        HttpContext http,
        [FromForm] string? label,
        [FromForm] PracticeRole most,
        [FromForm] int days,
        AccessKeys keys,
        AccountPost post,
        AuditTrail audit,
        FlashCodes flash,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var (secret, _, refused) = await Create(http, new KeyRequest(label ?? "", most, days), keys, post, audit, time, ct);
        return Results.LocalRedirect(
            refused is not null ? $"/me/keys?refused={refused.Code}" : $"/me/keys?made={flash.Keep(Account(http), [secret!])}"
        );
    }

    private static async Task<IResult> End(HttpContext http, string keyId, AccessKeys keys, AuditTrail audit, CancellationToken ct) =>
        await Remove(http, keys, audit, keyId, ct) ? Results.NoContent() : Problems.Of(NoSuchKey);

    private static async Task<IResult> EndByForm(
        HttpContext http,
        [FromForm] string? id,
        AccessKeys keys,
        AuditTrail audit,
        CancellationToken ct
    )
    {
        if (id is { Length: 64 })
            await Remove(http, keys, audit, id, ct);
        return Results.LocalRedirect("/me/keys?done=1");
    }

    private static async Task<(string? Secret, AccessKey? Key, Refused? Refused)> Create(
        HttpContext http,
        KeyRequest r,
        AccessKeys keys,
        AccountPost post,
        AuditTrail audit,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var who = SignedIn.From(http.User);
        if (string.IsNullOrWhiteSpace(r.Label) || r.Label.Length > 80)
            return (null, null, new Refused("no-label", "Say in up to 80 letters which program it is for.", Place: "label"));
        if (r.Days is < 1 or > AccessKey.MostDays)
            return (null, null, new Refused("bad-days", "A key holds for 1 to 365 days.", Place: "days"));
        if (!Enum.IsDefined(r.Most) || r.Most > who.Role || r.Most == PracticeRole.Administrator)
            return (null, null, new Refused("too-much", "A key may do no more than you may, and never administers.", Place: "most"));
        if ((await keys.Of(Account(http), who.Practice, ct)).Count >= MostKeys)
            return (null, null, new Refused("too-many-keys", "You have 50 keys here. End some first.", RefusalKind.Conflict));
        var secret = AccessKey.Make();
        var now = time.GetUtcNow();
        var key = new AccessKey(
            AccessKey.HashOf(secret),
            r.Label.Trim(),
            Account(http),
            who.Practice,
            now,
            now.AddDays(r.Days),
            Most: r.Most
        );
        await keys.Save(key, ct);
        post.Send(AccountLetter.KeyMade, Account(http), key.Label);
        await audit.Note(http, AuditWords.KeyMade, detail: RoleWords.Of(r.Most), ct: ct);
        return (secret, key, null);
    }

    private static async Task<bool> Remove(HttpContext http, AccessKeys keys, AuditTrail audit, string id, CancellationToken ct)
    {
        if (await keys.Remove(Account(http), SignedIn.From(http.User).Practice, id, ct) is null)
            return false;
        await audit.Note(http, AuditWords.KeyEnded, ct: ct);
        return true;
    }

    private static readonly Refused NoSuchKey = new("no-such-key", "You have no such key here.", RefusalKind.NotFound);

    private static Guid Account(HttpContext http) => SessionEvents.AccountOf(http.User)!.Value;
}
