namespace BackHistory.Shape.Gauges;

/// <summary>What the tracings ask for, and what they cannot say.</summary>
public sealed record Proposal(IReadOnlyList<ProposedChange> Changes, IReadOnlyList<UnsaidChange> Unsaid);
