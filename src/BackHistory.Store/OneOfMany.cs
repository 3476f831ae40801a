using BackHistory.History;

namespace BackHistory.Store;

/// <param name="Key">Idempotency key of this one command.</param>
/// <param name="Decide">Pure; given the state that the commands before it left.</param>
public sealed record OneOfMany<TState>(string Key, string Fingerprint, Func<TState?, Decided> Decide)
    where TState : class, IFolded<TState>;
