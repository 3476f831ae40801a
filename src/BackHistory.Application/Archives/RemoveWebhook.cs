using BackHistory.Application.Access;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Archives;

/// <summary>Other software is told of changes no more. One that is not there needs nothing.</summary>
public sealed class RemoveWebhook(WebhookStore webhooks, AuditBook audit) : IAct
{
    public static Right Needs => Right.Administer;

    public sealed record Input(Guid WebhookId);

    public async Task Do(Input input, Caller by, CancellationToken ct)
    {
        if (await webhooks.Load(by.Context.Tenant, input.WebhookId, ct) is not { } webhook)
            return;
        await audit.Note(by, AuditWords.WebhookRemoved, detail: webhook.Host, ct: ct);
        await webhooks.Remove(by.Context.Tenant, input.WebhookId, ct);
    }
}
