using BackHistory.Reports.Charts;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Invented backs: a rounded roof whose halves can differ, and a topline with a hollow.</summary>
static class SampleBacks
{
    /// <param name="left">Depth in mm at 200 mm left of the midline.</param>
    /// <param name="right">The same on the right.</param>
    /// <param name="hollow">How far the flanks sink in below the ridge, mm.</param>
    public static SectionCurve Section(string label, double left, double right, double hollow) => new(label,
        [.. Enumerable.Range(-60, 121).Select(i => Point(i / 60.0, left, right, hollow))]);

    static PlanePoint Point(double t, double left, double right, double hollow)
    {
        var (x, steep) = (t * 205, t < 0 ? left : right);
        var y = -steep * (0.75 * t * t + 0.25 * Math.Abs(t)) - hollow * Math.Sin(Math.PI * Math.Min(1, Math.Abs(t) * 1.6)) * Math.Abs(t) * 2.2;
        return new(x, y);
    }

    public static SectionCurve Then { get; } = Section("12 Jun 2026, saddle set", 158, 160, 6);

    public static SectionCurve Now { get; } = Section("25 Nov 2026", 150, 178, 15);

    public static SectionCurve NowWithGap { get; } = Now with { Gaps = [new(Now.Points[92], Now.Points[101])] };

    public static ToplineCurve Topline(string label, double hollow)
    {
        double V(double u) => 60 * Math.Exp(-Math.Pow((u - 40) / 95, 2)) - hollow * Math.Sin(Math.PI * Math.Clamp(u / 520, 0, 1)) + 0.045 * u;
        StationMark Station(string name, double u) => new(name, new(u, V(u)));
        return new(label, [.. Enumerable.Range(-12, 80).Select(i => new PlanePoint(i * 10, V(i * 10)))],
            [Station("shoulder", 0), Station("behind-shoulder", 102), Station("mid-back", 300), Station("last-rib", 470)]);
    }
}
