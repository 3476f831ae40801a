using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace BackHistory.Shape;

/// <summary>
/// Points as taken by hand, photograph or file, in traced order and in the unit and axes in which they were taken. Immutable;
/// serialises in the wire form of the `measure` verb.
/// </summary>
[JsonConverter(typeof(TracingConverter))]
public sealed record Tracing
{
    public required TracingKind Kind { get; init; }

    /// <summary>Free text, usually a station of the protocol; echoed, never interpreted.</summary>
    public string? Station { get; init; }

    /// <summary>`mm`, `cm` or `in`; anything else is refused as `unknown-unit`.</summary>
    public string Unit { get; init; } = "mm";

    /// <summary>True for picture coordinates, where y grows downwards.</summary>
    public bool YAxisDown { get; init; }

    /// <summary>Toplines only: true when the tail lies to the left on the sheet.</summary>
    public bool TailLeft { get; init; }

    public required ImmutableArray<Point> Points { get; init; }

    /// <summary>The mark put on the dorsal midline; absent = the origin.</summary>
    public Point? Midline { get; init; }

    /// <summary>Absent = the axes are level.</summary>
    public LevelLine? Level { get; init; }

    /// <summary>Stations on a topline (`behind-shoulder`, …), anatomical marks on a cross-section (`muscle-junction-left`, …).</summary>
    public IReadOnlyDictionary<string, Point> Marks { get; init; } = ImmutableDictionary<string, Point>.Empty;

    /// <summary>Standard deviation of each coordinate of a point, in millimetres whatever the unit; 0 = exact.</summary>
    public double Noise { get; init; } = 1.0;

    /// <summary>
    /// The same tracing in millimetres with y up, and zeros without a sign: what events store, to the bit. Points keep their order and
    /// the tail its side.
    /// A tracing in an unknown unit is returned as it is: analysis refuses it.
    /// </summary>
    public Tracing InMillimetres()
    {
        if (Units.MillimetresPer(Unit) is not { } scale || (scale == 1.0 && !YAxisDown && !HoldsNegativeZero))
            return this;
        var flip = YAxisDown ? -scale : scale;
        // PostgreSQL's numbers know no negative zero; adding zero takes its sign and nothing else.
        Point Convert(Point p) => new(p.X * scale + 0.0, p.Y * flip + 0.0);
        return this with
        {
            Unit = "mm",
            YAxisDown = false,
            Points = [.. Points.Select(Convert)],
            Midline = Midline is { } m ? Convert(m) : null,
            Level = Level is { } l ? new LevelLine(Convert(l.From), Convert(l.To)) : null,
            Marks = Marks.ToImmutableSortedDictionary(m => m.Key, m => Convert(m.Value), StringComparer.Ordinal),
            Noise = Noise + 0.0,
        };
    }

    private bool HoldsNegativeZero =>
        IsNegativeZero(Noise)
        || Points.Any(IsNegativeZero)
        || (Midline is { } midline && IsNegativeZero(midline))
        || (Level is { } level && (IsNegativeZero(level.From) || IsNegativeZero(level.To)))
        || Marks.Values.Any(IsNegativeZero);

    private static bool IsNegativeZero(Point p) => IsNegativeZero(p.X) || IsNegativeZero(p.Y);

    private static bool IsNegativeZero(double value) => value == 0 && double.IsNegative(value);
}
