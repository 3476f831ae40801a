namespace BackHistory.Store.Rebuilds;

/// <summary>A read model that does not follow the history any more.</summary>
/// <param name="Name">Null for all of them: nothing counts the new events.</param>
/// <param name="Position">Up to which event it has followed.</param>
/// <param name="Behind">How many positions of the store it has not seen.</param>
/// <param name="Since">For how long at least.</param>
public sealed record StandingReadModel(string? Name, long Position, long Behind, TimeSpan Since);
