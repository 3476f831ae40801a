using BackHistory.Application.Archives;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Archives;

namespace BackHistory.Service.Archives;

/// <summary>Telling other software of changes, over HTTP.</summary>
public static class WebhooksApi
{
    public static void MapWebhooks(this IEndpointRouteBuilder api)
    {
        var webhooks = api.MapGroup("/webhooks").WithTags("Changes");
        webhooks.MapGet("/", List).RequireAuthorization(Policies.Administer).WithSummary("Who is told of changes, and how far");
        webhooks
            .MapPost("/", Make)
            .Needs<AddWebhook>()
            .WithSummary("Tell other software of changes from now on")
            .Accepts<WebhookRequest>("application/json");
        webhooks
            .MapPost("/{webhookId:guid}/start", Start)
            .Needs<RestartWebhook>()
            .WithSummary("Start one again that failed too often; it goes on where it stopped");
        webhooks.MapDelete("/{webhookId:guid}", Remove).Needs<RemoveWebhook>().WithSummary("Tell it no more");
    }

    private static async Task<IResult> List(HttpContext http, WebhookStore webhooks, CancellationToken ct) =>
        Results.Ok((await webhooks.All(SignedIn.From(http.User).Practice, ct)).Select(WebhookAnswer.From));

    private static async Task<IResult> Make(HttpContext http, AddWebhook add, TimeProvider time, CancellationToken ct)
    {
        var (r, bad) = Bodies.As<WebhookRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.From(bad);
        var (by, keyless) = CommandRequest.Caller(http, time);
        if (keyless is not null)
            return Problems.From(keyless);
        var id = NewIds.IdFor(http, "webhook");
        var (secret, refused) = await add.Do(new AddWebhook.Input(id, r!.Url, r.Types ?? []), by!, ct);
        return refused is not null ? Problems.From(refused) : Results.Created($"/api/webhooks/{id}", new WebhookMade(id, secret!));
    }

    private static async Task<IResult> Start(
        HttpContext http,
        RestartWebhook restart,
        Guid webhookId,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (Bodies.NotNothing(await Bodies.Read(http.Request, ct)) is { } unread)
            return Problems.From(unread);
        return await restart.Do(new RestartWebhook.Input(webhookId), Callers.ByPress(http, time), ct) is { } no
            ? Problems.From(no)
            : Results.NoContent();
    }

    private static async Task<IResult> Remove(
        HttpContext http,
        RemoveWebhook remove,
        Guid webhookId,
        TimeProvider time,
        CancellationToken ct
    )
    {
        await remove.Do(new RemoveWebhook.Input(webhookId), Callers.ByPress(http, time), ct);
        return Results.NoContent();
    }
}
