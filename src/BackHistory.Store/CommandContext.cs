namespace BackHistory.Store;

/// <summary>Who gives a command, in which practice, and what makes it the same command when it comes twice.</summary>
/// <param name="Tenant">The practice, from the signed-in membership only.</param>
/// <param name="Actor">The person who gives it.</param>
/// <param name="Key">Idempotency key: the service's own, or a caller's as <see cref="CallerKey.KeyFor"/> makes it.</param>
/// <param name="Fingerprint">Hash of the command's content.</param>
/// <param name="ExpectedVersion">The stream's version that the caller saw; null accepts any.</param>
/// <param name="Now">The time of the decision.</param>
/// <param name="Shown">What the page said of it when it was pressed, as <c>StandingTag</c> makes it; null asks nothing.</param>
public sealed record CommandContext(
    string Tenant,
    Guid Actor,
    string Key,
    string Fingerprint,
    long? ExpectedVersion,
    DateTimeOffset Now,
    string? Correlation = null,
    string? Shown = null
);
