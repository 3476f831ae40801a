namespace BackHistory.Shape;

/// <summary>Something about a tracing that a person should look at; it never drops data.</summary>
/// <param name="Flag">`gap`, `level-tilt`, `midline-off`, `halves-apart`, `end-curl`, `uncertain`, …</param>
/// <param name="Side">`left`, `right`, or null where a side means nothing</param>
/// <param name="From">in registered millimetres; for a gap the end nearer the midline (toplines: nearer the head)</param>
/// <param name="To">in registered millimetres</param>
/// <param name="Length">size in millimetres</param>
/// <param name="Measure">key of the one measure that it is about; null when it is about the whole tracing</param>
public sealed record QualityFlag(string Flag, string? Side, Point From, Point To, double Length, string? Measure = null)
{
    /// <summary>True when a measure of the tracing is to be trusted less for this flag.</summary>
    public bool Concerns(string measure) => Measure is null || Measure == measure;
}
