using BackHistory.Store.Accounts;

namespace BackHistory.Service.Access.Me;

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
