namespace BackHistory.Store;

/// <summary>
/// What a command with this key did. Inserted in the same transaction as the command's events, so a repeat finds either both or neither;
/// a lost reply to the commit is answered by looking here.
/// </summary>
/// <param name="Id">The idempotency key.</param>
/// <param name="Fingerprint">Of the request's content: the same key with other content is a mistake, not a repeat.</param>
public sealed record CommandReceipt(string Id, string Fingerprint, Guid StreamId, long Version, DateTimeOffset At);
