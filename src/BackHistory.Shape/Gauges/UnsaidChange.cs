namespace BackHistory.Shape.Gauges;

/// <summary>A part of the saddle about which the tracings cannot say all.</summary>
/// <param name="Of">as in <see cref="ProposedChange"/></param>
/// <param name="Measure">the one that is missing; null for another reason</param>
/// <param name="Gauge">the one that does not reach; null for another reason</param>
public sealed record UnsaidChange(string Of, UnsaidReason Reason, string? Measure = null, Gauge? Gauge = null);
