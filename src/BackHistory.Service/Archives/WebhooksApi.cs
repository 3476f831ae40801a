using System.Security.Cryptography;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store;
using BackHistory.Store.Archives;

namespace BackHistory.Service.Archives;

/// <param name="Url">Where changes are sent, https.</param>
/// <param name="Types">Types of events; none for all.</param>
public sealed record WebhookRequest(string Url, IReadOnlyList<string>? Types);

/// <param name="Secret">With which it is signed; shown this once.</param>
public sealed record WebhookMade(Guid Id, string Secret);

public sealed record WebhookAnswer(
    Guid Id,
    string Url,
    IReadOnlyList<string> Types,
    DateTimeOffset? LastTaken,
    int Failures,
    DateTimeOffset? NotBefore,
    string? LastError,
    bool Stopped
)
{
    internal static WebhookAnswer Of(Webhook w) => new(w.Id, w.Url, w.Types, w.LastTaken, w.Failures, w.NotBefore, w.LastError, w.Stopped);
}

/// <summary>Telling other software of changes, over HTTP.</summary>
public static class WebhooksApi
{
    private static readonly Refused NoSuchWebhook = new(
        "no-such-webhook",
        "There is no such webhook in this practice.",
        RefusalKind.NotFound
    );

    public static void MapWebhooks(this IEndpointRouteBuilder api)
    {
        var webhooks = api.MapGroup("/webhooks").WithTags("Changes").RequireAuthorization(Policies.Administer);
        webhooks.MapGet("/", List).WithSummary("Who is told of changes, and how far");
        webhooks.MapPost("/", Make).WithSummary("Tell other software of changes from now on").Accepts<WebhookRequest>("application/json");
        webhooks
            .MapPost("/{webhookId:guid}/start", Start)
            .WithSummary("Start one again that failed too often; it goes on where it stopped");
        webhooks.MapDelete("/{webhookId:guid}", Remove).WithSummary("Tell it no more");
    }

    private static async Task<IResult> List(HttpContext http, WebhookStore webhooks, CancellationToken ct) =>
        Results.Ok((await webhooks.All(SignedIn.From(http.User).Practice, ct)).Select(WebhookAnswer.Of));

    private static async Task<IResult> Make(
        HttpContext http,
        WebhookStore webhooks,
        Progress progress,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var (r, bad) = Bodies.As<WebhookRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.Of(bad);
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return Problems.Of(RequestRefusals.NoKey);
        if (
            !Uri.TryCreate(r!.Url, UriKind.Absolute, out var url)
            || url.Scheme is not ("https" or "http")
            || url.UserInfo.Length > 0
            || r.Url.Length > 500
        )
            return Problems.Of(new Refused("bad-url", "This is no address of the web to send to.", Place: "url"));
        if (r.Types?.FirstOrDefault(t => !ChangesApi.Known.Contains(t)) is { } unknown)
            return Problems.Of(new Refused("unknown-type", $"'{unknown}' is no type of event.", Place: "types"));
        var who = SignedIn.From(http.User);
        var id = NewIds.Of(http, "webhook");
        if (await webhooks.Load(who.Practice, id, ct) is not null)
            return Problems.Of(
                new Refused("made-already", "This webhook was made already; its secret is shown once.", RefusalKind.Conflict)
            );
        var secret = $"whsec_{Convert.ToBase64String(RandomNumberGenerator.GetBytes(32))}";
        var webhook = new Webhook(id, url.AbsoluteUri, secret, r.Types ?? [], who.PersonId, time.GetUtcNow());
        await webhooks.Add(who.Practice, webhook with { Position = await progress.Settled(ct) }, ct);
        return Results.Created($"/api/webhooks/{id}", new WebhookMade(id, secret));
    }

    private static async Task<IResult> Start(HttpContext http, WebhookStore webhooks, Guid webhookId, CancellationToken ct)
    {
        if (Bodies.NotNothing(await Bodies.Read(http.Request, ct)) is { } unread)
            return Problems.Of(unread);
        var practice = SignedIn.From(http.User).Practice;
        var started = await webhooks.Change(practice, webhookId, w => w with { Stopped = false, Failures = 0, NotBefore = null }, ct);
        return started is null ? Problems.Of(NoSuchWebhook) : Results.NoContent();
    }

    private static async Task<IResult> Remove(HttpContext http, WebhookStore webhooks, Guid webhookId, CancellationToken ct)
    {
        await webhooks.Remove(SignedIn.From(http.User).Practice, webhookId, ct);
        return Results.NoContent();
    }
}
