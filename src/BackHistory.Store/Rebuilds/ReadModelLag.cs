namespace BackHistory.Store.Rebuilds;

/// <param name="Position">Up to which event it has followed.</param>
/// <param name="Behind">How many positions of the store it has not seen.</param>
public sealed record ReadModelLag(string Name, long Position, long Behind);
