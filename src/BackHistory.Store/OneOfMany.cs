using BackHistory.History;

namespace BackHistory.Store;

/// <param name="Key">Idempotency key of this one command.</param>
/// <param name="Decide">Pure; given the state that the commands before it left.</param>
public sealed record OneOfMany<TState>(string Key, string Fingerprint, Func<TState?, Decided> Decide)
    where TState : class, IFolded<TState>
{
    /// <summary>Reads what the decision rests on besides the stream; it stays as it is until the transaction is over.</summary>
    public Func<Held, Task>? Look { get; init; }
}
