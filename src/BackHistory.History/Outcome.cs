namespace BackHistory.History;

/// <summary>What came of a command: the stream's new version, or a refusal with nothing written.</summary>
/// <param name="Repeated">The same command had been carried out before; nothing was done this time.</param>
/// <param name="Sequence">The store-wide position of the last event, for readers that wait for their own write.</param>
public sealed record Outcome(Guid StreamId, long Version, long Sequence, Refused? Refused, bool Repeated = false);
