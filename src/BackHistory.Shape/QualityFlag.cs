namespace BackHistory.Shape;

/// <summary>Something about a tracing that a person should look at; it never drops data.</summary>
/// <param name="Flag">`gap`, `level-tilt`, `midline-off`, `halves-apart`, `end-curl`, …</param>
/// <param name="Side">`left`, `right`, or null where a side means nothing</param>
/// <param name="From">in registered millimetres; for a gap the end nearer the midline (toplines: nearer the head)</param>
/// <param name="To">in registered millimetres</param>
/// <param name="Length">size in millimetres</param>
public sealed record QualityFlag(string Flag, string? Side, Point From, Point To, double Length);
