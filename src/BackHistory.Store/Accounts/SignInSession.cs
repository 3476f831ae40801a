namespace BackHistory.Store.Accounts;

/// <summary>One browser in which somebody is signed in. The browser holds the secret; here is only its hash.</summary>
/// <param name="Id">SHA-256 of the secret, hexadecimal.</param>
/// <param name="ConfirmedAt">When the person last proved who they are.</param>
/// <param name="Method">How: <c>pwd</c>, <c>mfa</c>, <c>passkey</c> or a sign-in service's name.</param>
/// <param name="Device">In words that its owner recognises, for example <c>Firefox on Android</c>.</param>
public sealed record SignInSession(
    string Id,
    Guid AccountId,
    DateTimeOffset MadeAt,
    DateTimeOffset SeenAt,
    DateTimeOffset ConfirmedAt,
    string Method,
    string Device
)
{
    /// <summary>Signed in once a fortnight a fitter in the yard is not asked again; a lost telephone is out after one.</summary>
    public static readonly TimeSpan Idle = TimeSpan.FromDays(14);

    public static readonly TimeSpan Longest = TimeSpan.FromDays(90);

    /// <summary>Where more sign in at once, the one that was seen longest ago ends.</summary>
    public const int Most = 20;

    public DateTimeOffset? EndedAt { get; init; }

    public bool Lives(DateTimeOffset now) => EndedAt is null && now - SeenAt < Idle && now - MadeAt < Longest;
}
