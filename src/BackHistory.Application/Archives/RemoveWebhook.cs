using BackHistory.Store.Archives;

namespace BackHistory.Application.Archives;

/// <summary>Other software is told of changes no more. One that is not there needs nothing.</summary>
public sealed class RemoveWebhook(WebhookStore webhooks) : IAct
{
    public static Right Needs => Right.Administer;

    public sealed record Input(Guid WebhookId);

    public Task Do(Input input, Caller by, CancellationToken ct) => webhooks.Remove(by.Context.Tenant, input.WebhookId, ct);
}
