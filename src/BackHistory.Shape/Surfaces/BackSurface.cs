using System.Collections.Immutable;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Surfaces;

/// <summary>
/// The back lofted over its cross-sections: matched side by side by their share of the arc from M, joined along the back by monotone
/// cubics. The frame is rigid: the M of the first station lies at height 0; with a topline the other stations rise and fall along it,
/// without one they all keep their M at height 0.
/// </summary>
public sealed class BackSurface
{
    private readonly double[] places;
    private readonly Func<double, double> height;

    private BackSurface(ImmutableArray<StationSection> sections, Func<double, double>? height)
    {
        (Sections, this.height, HeightsTraced) = (sections, height ?? (_ => 0), height is not null);
        places = [.. sections.Select(s => s.FromDatum)];
    }

    /// <summary>From head to tail.</summary>
    public ImmutableArray<StationSection> Sections { get; }

    /// <summary>Whether a topline gave the heights of the midline; false where all stations keep theirs at 0.</summary>
    public bool HeightsTraced { get; }

    /// <summary>Millimetres from the datum between which there is a surface.</summary>
    public (double From, double To) Range => (places[0], places[^1]);

    /// <summary>Height of the midline at a distance from the datum, mm above that of the first station.</summary>
    public double HeightAt(double fromDatum) => height(fromDatum);

    /// <summary>Lofts at least two cross-sections. The topline gives heights when it marks at least two of their stations.</summary>
    public static (BackSurface? Surface, string? Fault) Loft(IEnumerable<StationSection> sections, Contour? topline = null)
    {
        var inOrder = sections.OrderBy(s => s.FromDatum).ToImmutableArray();
        if (inOrder.Length < 2)
            return (null, "A surface needs cross-sections at two stations at least.");
        if (inOrder.Any(s => s.Contour.Kind != TracingKind.CrossSection))
            return (null, "Only cross-sections can be lofted.");
        for (var i = 0; i + 1 < inOrder.Length; i++)
            if (!(inOrder[i + 1].FromDatum - inOrder[i].FromDatum >= 1))
                return (null, $"The stations '{inOrder[i].Station}' and '{inOrder[i + 1].Station}' lie on one place.");
        return (new BackSurface(inOrder, Heights(inOrder, topline)), null);
    }

    private static Func<double, double>? Heights(ImmutableArray<StationSection> sections, Contour? contour)
    {
        if (contour?.Kind != TracingKind.Topline)
            return null;
        var topline = new Topline(contour);
        var marked = sections.Where(s => topline.At(s.Station) is not null).ToArray();
        if (marked.Length < 2)
            return null;
        double[] from = [.. marked.Select(s => s.FromDatum)],
            u = [.. marked.Select(s => contour.Marks[s.Station].X)];
        var first = HeightAt(sections[0].FromDatum);
        return place => HeightAt(place) - first;

        // Between stations the back follows the topline; beyond the marked ones it keeps the height of the last.
        double HeightAt(double place)
        {
            var at = Math.Clamp(place, from[0], from[^1]);
            var i = Pchip.Interval(from, at);
            var along = u[i] + (u[i + 1] - u[i]) * (at - from[i]) / (from[i + 1] - from[i]);
            return topline.HeightAtU(along) ?? 0;
        }
    }

    /// <summary>
    /// The section at a distance from the datum, in the frame of its own M, from left to right; null outside the surface.
    /// </summary>
    public ImmutableArray<Point>? SectionAt(double fromDatum, int pointsPerSide = 240)
    {
        if (!(fromDatum >= places[0] && fromDatum <= places[^1]))
            return null;
        return new SurfaceGrid(this, pointsPerSide, [fromDatum]).Section(0);
    }

    /// <summary>That section as an exact tracing, to be measured like any other.</summary>
    public Tracing? TracingAt(double fromDatum) =>
        SectionAt(fromDatum) is { } points
            ? new Tracing
            {
                Kind = TracingKind.CrossSection,
                Points = points,
                Noise = 0,
            }
            : null;

    /// <summary>The surface as triangles at most about <paramref name="step"/> mm wide, corners counter-clockwise from outside.</summary>
    public TriangleMesh Mesh(double step)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(step, 0.2);
        return GridOf(step).Mesh();
    }

    internal SurfaceGrid GridOf(double step) => new(this, ColumnsPerSide(step), Rows(places[0], places[^1], step));

    internal int ColumnsPerSide(double step) =>
        Math.Max(1, (int)Math.Ceiling(Sections.Max(s => Math.Max(s.Contour.Left!.Length, s.Contour.Right!.Length)) / step));

    internal static double[] Rows(double from, double to, double step)
    {
        var count = Math.Max(1, (int)Math.Ceiling((to - from) / step));
        return [.. Enumerable.Range(0, count + 1).Select(k => from + (to - from) * k / count)];
    }

    /// <summary>`half-volume-left` and `half-volume-right`, litres: between two stations, above a depth below the midline.</summary>
    public IReadOnlyList<Measure> HalfVolumes(string from = StationMarks.Shoulder, string to = StationMarks.LastRib, double depth = 100) =>
        [SurfaceVolume.Half(this, Side.Left, from, to, depth), SurfaceVolume.Half(this, Side.Right, from, to, depth)];
}
