using System.Security.Cryptography;
using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Archives;

/// <summary>Other software is told of changes from now on.</summary>
public sealed class AddWebhook(WebhookStore webhooks, Progress progress, AuditBook audit) : IAct
{
    private const int LongestUrl = 500;
    private const int SecretBytes = 32;

    private static readonly HashSet<string> KnownTypes = [.. EventSchemas.All().Keys];

    public static Right Needs => Right.Administer;

    /// <param name="Url">Where changes are sent, an address of the web without a name or password in it.</param>
    /// <param name="Types">Types of events; none for all.</param>
    public sealed record Input(Guid WebhookId, string Url, IReadOnlyList<string> Types);

    /// <returns>The secret with which what is sent is signed, known this once, or why there is none.</returns>
    public async Task<(string? Secret, Refused? Refused)> Do(Input input, Caller by, CancellationToken ct)
    {
        var practice = by.Context.Tenant;
        if (
            !Uri.TryCreate(input.Url, UriKind.Absolute, out var url)
            || url.Scheme is not ("https" or "http")
            || url.UserInfo.Length > 0
            || input.Url.Length > LongestUrl
        )
            return (null, new Refused("bad-url", "This is no address of the web to send to.", Place: "url"));
        if (input.Types.FirstOrDefault(t => !KnownTypes.Contains(t)) is { } unknown)
            return (null, new Refused("unknown-type", $"'{unknown}' is no type of event.", Place: "types"));
        if (await webhooks.Load(practice, input.WebhookId, ct) is not null)
            return (null, new Refused("made-already", "This webhook was made already; its secret is shown once.", RefusalKind.Conflict));
        var secret = $"whsec_{Convert.ToBase64String(RandomNumberGenerator.GetBytes(SecretBytes))}";
        var webhook = new Webhook(input.WebhookId, url.AbsoluteUri, secret, input.Types, by.Context.Actor, by.Context.Now);
        // Written down before it is done: killed between the two, it says too much and not too little.
        await audit.Note(by, AuditWords.WebhookAdded, detail: webhook.Host, ct: ct);
        await webhooks.Add(practice, webhook with { Position = await progress.Settled(ct) }, ct);
        return (secret, null);
    }
}
