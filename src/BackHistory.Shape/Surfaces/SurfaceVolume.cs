using BackHistory.Shape.Contours;
using BackHistory.Shape.Errors;
using BackHistory.Shape.Measures;

namespace BackHistory.Shape.Surfaces;

/// <summary>Volume of one half of a lofted back above a depth: the area of its sections, integrated along the back.</summary>
internal static class SurfaceVolume
{
    private const int PointsPerSide = 300;
    private const int PanelsBetweenStations = 16;
    private const double CubicMillimetresPerLitre = 1e6;

    internal static Measure Half(BackSurface surface, Side side, string from, string to, double depth)
    {
        var key = side == Side.Left ? "half-volume-left" : "half-volume-right";
        var (first, last) = (IndexOf(surface, from), IndexOf(surface, to));
        if (first < 0 || last <= first)
            return new(key, null, "l", null, "not covered");
        var areas = new List<Measure>();
        for (var i = first; i <= last; i++)
            areas.Add(StationArea(surface.Sections[i].Contour, side, depth));
        if (areas.Any(a => a.Value is null))
            return new(key, null, "l", null, "not covered");
        double volume = 0;
        for (var i = first; i < last; i++)
            volume += Between(surface, side, surface.Sections[i].FromDatum, surface.Sections[i + 1].FromDatum, depth);
        return new(key, volume / CubicMillimetresPerLitre, "l", StandardError(surface, first, areas), null);
    }

    private static int IndexOf(BackSurface surface, string station)
    {
        for (var i = 0; i < surface.Sections.Length; i++)
            if (surface.Sections[i].Station == station)
                return i;
        return -1;
    }

    private static Measure StationArea(Contour contour, Side side, double depth)
    {
        using var errors = new Sensitivity(contour.Fit, contour.Noise);
        return new MeasuredArm(contour.ArmOn(side)!, errors).AreaAbove(depth).Named("area", "mm2", errors);
    }

    /// <summary>Simpson's rule over the areas of sections between two stations.</summary>
    private static double Between(BackSurface surface, Side side, double from, double to, double depth)
    {
        var rows = new double[PanelsBetweenStations + 1];
        for (var k = 0; k < rows.Length; k++)
            rows[k] = from + (to - from) * k / PanelsBetweenStations;
        var grid = new SurfaceGrid(surface, PointsPerSide, rows);
        double mean = 0;
        for (var k = 0; k < rows.Length; k++)
            mean += Simpson.Weight(k, rows.Length) * AreaOf(grid.Section(k).AsSpan(), side, depth);
        return mean * (to - from);
    }

    /// <summary>
    /// M → along the section → its outermost crossing of the depth → (0, −depth) → M; the end of a side counts as its crossing.
    /// </summary>
    private static double AreaOf(ReadOnlySpan<Point> section, Side side, double depth)
    {
        var (middle, step) = (section.Length / 2, side == Side.Left ? -1 : 1);
        var last = middle;
        for (var k = middle; k + step >= 0 && k + step < section.Length; k += step)
            if (section[k].Y > -depth != section[k + step].Y > -depth && step * section[k].X >= step * section[last].X)
                last = k;
        if (last == middle)
            last = step < 0 ? 1 : section.Length - 2;
        var (inner, outer) = (section[last], section[last + step]);
        var crossing = inner.Y == outer.Y ? outer : inner + Math.Clamp((-depth - inner.Y) / (outer.Y - inner.Y), 0, 1) * (outer - inner);
        double twice = 0;
        for (var k = middle; k != last; k += step)
            twice += section[k].Cross(section[k + step]);
        twice += inner.Cross(crossing) + crossing.Cross(new Point(0, -depth));
        return -step * twice / 2;
    }

    /// <summary>The stations' areas are independent; each counts with the half-distances to its neighbours.</summary>
    private static double StandardError(BackSurface surface, int first, List<Measure> areas)
    {
        double variance = 0;
        for (var i = 0; i < areas.Count; i++)
        {
            var place = surface.Sections[first + i].FromDatum;
            var before = i > 0 ? place - surface.Sections[first + i - 1].FromDatum : 0;
            var after = i + 1 < areas.Count ? surface.Sections[first + i + 1].FromDatum - place : 0;
            var weighted = (before + after) / 2 * areas[i].Sd!.Value;
            variance += weighted * weighted;
        }
        return Math.Sqrt(variance) / CubicMillimetresPerLitre;
    }
}
