namespace BackHistory.Shape;

/// <summary>
/// A number with a unit, keyed as in the catalogue of measures. <paramref name="Value"/> is null where the tracing does not carry it, and
/// <paramref name="Why"/> then says so. <paramref name="Sd"/> is the standard error that the tracing's noise gives the value, in its unit.
/// </summary>
/// <param name="Key">for instance `width@100`, `slope-left`, `topline-slope@shoulder-mid-back`</param>
/// <param name="Value">unrounded</param>
/// <param name="Unit">`mm`, `deg`, `cm2`, `l`, `kg`, `%` or `1`</param>
/// <param name="Sd">never negative; 0 for an exact tracing</param>
/// <param name="Why">`not covered`, `straight`, …</param>
public sealed record Measure(string Key, double? Value, string Unit, double? Sd, string? Why);
