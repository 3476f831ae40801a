namespace BackHistory.Shape.Quality;

/// <summary>
/// How far a measure scatters when the same hand traces the same horse again in the same visit: the default that every practice starts
/// from (rule of thumb, method.md section 4; measures that it does not name by the same judgement).
/// </summary>
public static class HandScatter
{
    /// <param name="Measure">key, or the part before `@` for all of that family</param>
    /// <param name="Sd">in the unit of the measure</param>
    /// <param name="Percent">of the value instead</param>
    /// <param name="Straight">radius, mm, beyond which a line is so straight that a hand keeps its curvature and no longer its
    /// radius</param>
    private readonly record struct Row(string Measure, double Sd, bool Percent = false, double Straight = double.PositiveInfinity);

    private static readonly Dictionary<string, Row> Known = new Row[]
    {
        new("width", 2.5),
        new("width-ratio", 2, Percent: true),
        new("slope-left", 1),
        new("slope-right", 1),
        new("opening", 1.4),
        new("skew-slope", 1.4),
        new("half-area-left", 2, Percent: true),
        new("half-area-right", 2, Percent: true),
        new("skew-area", 2.8),
        new("fill-left", 2),
        new("fill-right", 2),
        new("skew-shape", 1),
        new("ridge-radius", 10, Percent: true, Straight: 200),
        new("topline-drop", 3),
        new("topline-drop-place", 0.05),
        new("topline-slope", 0.7),
        new("bearing-length", 5),
        new("panel-radius", 5, Percent: true, Straight: 1500),
        new("half-volume-left", 2, Percent: true),
        new("half-volume-right", 2, Percent: true),
        new("mark-lateral", 4),
        new("mark-depth", 4),
    }.ToDictionary(r => r.Measure, StringComparer.Ordinal);

    /// <summary>Standard deviation in the unit of the measure; null for a measure without a default.</summary>
    /// <param name="measure">its key, for instance `width@100`</param>
    /// <param name="value">about which it scatters</param>
    public static double? SdOf(string measure, double value)
    {
        if (!Known.TryGetValue(measure.Split('@')[0], out var row))
            return null;
        if (!row.Percent)
            return row.Sd;
        var size = Math.Abs(value);
        return row.Sd / 100 * size * Math.Max(1, size / row.Straight);
    }
}
