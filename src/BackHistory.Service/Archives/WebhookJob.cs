using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using BackHistory.History;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Practices;
using BackHistory.Store.Setup;
using Hangfire;

namespace BackHistory.Service.Archives;

/// <summary>
/// Tells other software what changed since it last listened, signed as the Standard Webhooks specification says: at least once, in order,
/// with growing pauses after failures. Where it had got to is kept only after the other side took it.
/// </summary>
public sealed class WebhookJob(
    KnownPractices known,
    WebhookStore webhooks,
    Changes changes,
    StoreIdentity store,
    IHttpClientFactory clients,
    AdvisoryLocks turns,
    TimeProvider time
)
{
    internal const string Client = "webhooks";

    private const int Batch = 100;

    private const int MostFailures = 20;

    private static readonly JsonSerializerOptions Json = StoreSetup.ConfiguredJson();

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Webhooks)]
    [AutomaticRetry(Attempts = 0)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await using var turn = await turns.TryTake($"webhooks:{practice}", ct);
        if (turn is null)
            return;
        foreach (var webhook in await webhooks.All(practice, ct))
            if (!webhook.Stopped && !(webhook.NotBefore > time.GetUtcNow()))
                await Tell(practice, webhook, ct);
    }

    private async Task Tell(string practice, Webhook webhook, CancellationToken ct)
    {
        while (true)
        {
            var (events, next, _) = await changes.After(practice, webhook.Position, new ChangeFilter(webhook.Types, null), Batch, ct);
            if (events.Count > 0 && await Send(webhook, events, ct) is { } error)
            {
                var failures = webhook.Failures + 1;
                var pause = TimeSpan.FromMinutes(Math.Min(720, Math.Pow(2, failures)));
                var notBefore = time.GetUtcNow() + pause;
                await webhooks.Change(
                    practice,
                    webhook.Id,
                    w => w with { Failures = failures, LastError = error, NotBefore = notBefore, Stopped = failures >= MostFailures },
                    ct
                );
                return;
            }

            if (next == webhook.Position)
                return;
            var taken = events.Count > 0 ? time.GetUtcNow() : (DateTimeOffset?)null;
            var told = await webhooks.Change(
                practice,
                webhook.Id,
                w => w with { Position = next, Failures = 0, NotBefore = null, LastError = null, LastTaken = taken ?? w.LastTaken },
                ct
            );
            // Removed while it was being told, it is told no more.
            if (told is null)
                return;
            webhook = told;
            if (events.Count < Batch)
                return;
        }
    }

    /// <returns>Why it was not taken, or null.</returns>
    private async Task<string?> Send(Webhook webhook, IReadOnlyList<ArchivedEvent> events, CancellationToken ct)
    {
        var body = JsonSerializer.Serialize(
            new
            {
                type = "changes",
                timestamp = time.GetUtcNow(),
                // Another store than before: a backup was put back, and what was told since its day is history no more.
                data = new { store = await store.Current(ct), events },
            },
            Json
        );
        // The same events are the same message, however often it has to be sent.
        var (first, last) = (events[0].Position, events[^1].Position);
        var same = DeterministicId.From(
            "webhook",
            webhook.Id.ToString(),
            first.ToString(CultureInfo.InvariantCulture),
            last.ToString(CultureInfo.InvariantCulture)
        );
        var id = $"msg_{same:N}";
        var at = time.GetUtcNow().ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        using var request = new HttpRequestMessage(HttpMethod.Post, webhook.Url)
        {
            Content = new StringContent(body, Encoding.UTF8, "application/json"),
        };
        request.Headers.TryAddWithoutValidation("webhook-id", id);
        request.Headers.TryAddWithoutValidation("webhook-timestamp", at);
        request.Headers.TryAddWithoutValidation("webhook-signature", $"v1,{Sign(webhook.Secret, $"{id}.{at}.{body}")}");
        try
        {
            using var client = clients.CreateClient(Client);
            using var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, ct);
            return response.IsSuccessStatusCode ? null : $"answered {(int)response.StatusCode}";
        }
        catch (HttpRequestException e)
        {
            return e.InnerException is ForbiddenAddressException
                ? "the address is not on the public network"
                : $"cannot be reached ({e.HttpRequestError})";
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return "did not answer in time";
        }
    }

    internal static string Sign(string secret, string content) =>
        Convert.ToBase64String(HMACSHA256.HashData(Convert.FromBase64String(secret["whsec_".Length..]), Encoding.UTF8.GetBytes(content)));
}
