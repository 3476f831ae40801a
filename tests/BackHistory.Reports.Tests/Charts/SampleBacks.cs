using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Invented backs: a rounded roof whose halves can differ, and a topline with a hollow.</summary>
static class SampleBacks
{
    /// <summary>The right side behind the shoulder gained 12 mm, the left at the loin lost 8; the last ribs' left flank was not
    /// traced.</summary>
    public static ChangeMapChartInput Change { get; } =
        new()
        {
            Finding = "Most gained: 12 mm, right side, 60 mm below the midline, between the shoulder and mid-back.",
            Subject = "Juniper, 12 June 2026 to 25 November 2026",
            Spots = [.. from z in Enumerable.Range(0, 75) from x in Enumerable.Range(-30, 61) select Spot(6 * z, 6 * x)],
            StepMm = 6,
            SpanMm = 15,
            Stations = [("shoulder", 0), ("behind the shoulder", 102), ("mid-back", 290), ("last rib", 440)],
        };

    static ChangeSpot Spot(double z, double x)
    {
        double Hill(double at, double side, double size) =>
            size * Math.Exp(-((z - at) * (z - at) / 6000) - ((x - side) * (x - side) / 2500));
        return new(z, x, z > 400 && x < -100 ? null : Hill(140, 80, 12) - Hill(330, -60, 8));
    }

    /// <param name="left">Depth in mm at 200 mm left of the midline.</param>
    /// <param name="right">The same on the right.</param>
    /// <param name="hollow">How far the flanks sink in below the ridge, mm.</param>
    public static SectionCurve Section(string label, double left, double right, double hollow) =>
        new(label, [.. Enumerable.Range(-60, 121).Select(i => Point(i / 60.0, left, right, hollow))]);

    static PlanePoint Point(double t, double left, double right, double hollow)
    {
        var (x, steep) = (t * 205, t < 0 ? left : right);
        var y =
            -steep * (0.75 * t * t + 0.25 * Math.Abs(t)) - hollow * Math.Sin(Math.PI * Math.Min(1, Math.Abs(t) * 1.6)) * Math.Abs(t) * 2.2;
        return new(x, y);
    }

    public static SectionCurve Then { get; } = Section("12 Jun 2026, saddle set", 158, 160, 6);

    public static SectionCurve Now { get; } = Section("25 Nov 2026", 150, 178, 15);

    public static SectionCurve NowWithGap { get; } = Now with { Gaps = [new(Now.Points[92], Now.Points[101])] };

    public static ToplineCurve Topline(string label, double hollow)
    {
        double V(double u) =>
            60 * Math.Exp(-Math.Pow((u - 40) / 95, 2)) - hollow * Math.Sin(Math.PI * Math.Clamp(u / 520, 0, 1)) + 0.045 * u;
        StationMark Station(string name, double u) => new(name, new(u, V(u)));
        return new(
            label,
            [.. Enumerable.Range(-12, 80).Select(i => new PlanePoint(i * 10, V(i * 10)))],
            [Station("shoulder", 0), Station("behind-shoulder", 102), Station("mid-back", 300), Station("last-rib", 470)]
        );
    }
}
