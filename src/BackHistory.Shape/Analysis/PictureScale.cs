namespace BackHistory.Shape.Analysis;

/// <summary>
/// How a picture became millimetres, as far as it says how much the plane of the tracing may be stretched or sheared: what the scale
/// adds to the standard errors that come from the points alone.
/// </summary>
/// <param name="Known">How many points had a known place; two and three give a similarity, four and more a projective map.</param>
/// <param name="Residual">Root mean square distance of the known points from where the map puts them, mm; null with no point to
/// spare.</param>
/// <param name="Spread">Root mean square distance of the known points from their middle, mm.</param>
public sealed record PictureScale(int Known, double? Residual, double Spread)
{
    /// <summary>Of a picture that was taken by hand without anything that shows how it lies: 1 − cos 12°. An engineering choice, no
    /// source.</summary>
    public const double UnseenSlant = 0.02;

    /// <summary>How well a mark is touched, mm. An engineering choice, no source.</summary>
    private const double Touch = 0.5;

    private const int ForSimilarity = 2;
    private const int ForProjective = 4;

    /// <summary>Standard deviation of the plane's stretch along either axis and of its shear, as a share of 1.</summary>
    public double Distortion
    {
        get
        {
            var touched = Math.Max(Residual ?? 0, Touch) / Math.Max(Spread, 1);
            return Known <= ForSimilarity ? Math.Max(UnseenSlant, touched)
                // A stretch of e about the middle leaves e/2 of the spread as residual: the other half is taken for scale.
                : Known < ForProjective ? 2 * touched
                : Known == ForProjective ? touched
                : touched * Math.Sqrt((double)Known / (Known - ForProjective));
        }
    }

    /// <summary>The measures with what the scale may be off in their standard errors: the tracing is measured again, stretched along
    /// each axis and sheared by one standard deviation.</summary>
    public TracingAnswer Widen(Tracing tracing, TracingAnswer answer)
    {
        if (answer.Refused is not null)
            return answer;
        var (e, middle) = (Distortion, tracing.Midline ?? default);
        var others = new[] { (X: e, Y: 0.0, Shear: 0.0), (X: 0, Y: e, Shear: 0), (X: 0, Y: 0, Shear: e) }
            .Select(by => Values(Distorted(tracing, middle, by.X, by.Y, by.Shear)))
            .ToList();
        return answer with { Measures = [.. answer.Measures.Select(Widened)] };

        Measure Widened(Measure m)
        {
            if (m.Value is not { } value || m.Sd is not { } sd)
                return m;
            var moved = others.Select(o => o.TryGetValue(m.Key, out var other) ? other - value : 0);
            return m with { Sd = Math.Sqrt(sd * sd + moved.Sum(d => d * d)) };
        }
    }

    private static Dictionary<string, double> Values(Tracing tracing) =>
        TracingAnalysis
            .Analyse(tracing)
            .Measures.Where(m => m.Value is not null)
            .ToDictionary(m => m.Key, m => m.Value!.Value, StringComparer.Ordinal);

    private static Tracing Distorted(Tracing tracing, Point middle, double alongX, double alongY, double shear)
    {
        return tracing with
        {
            Points = [.. tracing.Points.Select(Moved)],
            Level = tracing.Level is { } level ? new LevelLine(Moved(level.From), Moved(level.To)) : null,
            Marks = tracing.Marks.ToDictionary(m => m.Key, m => Moved(m.Value), StringComparer.Ordinal),
        };

        Point Moved(Point p)
        {
            var (x, y) = (p.X - middle.X, p.Y - middle.Y);
            return new(middle.X + x * (1 + alongX) + y * shear, middle.Y + y * (1 + alongY));
        }
    }
}
