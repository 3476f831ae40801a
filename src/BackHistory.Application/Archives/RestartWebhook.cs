using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Archives;

/// <summary>Software that could not be told too often is told again, from where it stopped.</summary>
public sealed class RestartWebhook(WebhookStore webhooks, AuditBook audit) : IAct
{
    private static readonly Refused NoSuchWebhook = new(
        "no-such-webhook",
        "There is no such webhook in this practice.",
        RefusalKind.NotFound
    );

    public static Right Needs => Right.Administer;

    public sealed record Input(Guid WebhookId);

    /// <returns>Why nothing was started; null when it was.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var webhook = await webhooks.Change(
            by.Context.Tenant,
            input.WebhookId,
            w => w with { Stopped = false, Failures = 0, NotBefore = null },
            ct
        );
        if (webhook is null)
            return NoSuchWebhook;
        await audit.Note(by, AuditWords.WebhookStarted, detail: webhook.Host, ct: ct);
        return null;
    }
}
