using BackHistory.Store.Archives;

namespace BackHistory.Service.Archives;

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
