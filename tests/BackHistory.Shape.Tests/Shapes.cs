using System.Collections.Immutable;

namespace BackHistory.Shape.Tests;

/// <summary>Backs with known answers.</summary>
internal static class Shapes
{
    internal static Tracing Section(IEnumerable<Point> points, double noise = 0) =>
        new()
        {
            Kind = TracingKind.CrossSection,
            Points = [.. points],
            Noise = noise,
        };

    /// <summary>A curve given by a parameter from −1 (left end) to 1 (right end), with M at 0.</summary>
    internal static Tracing Section(Func<double, Point> curve, int points = 201, double noise = 0) =>
        Section(Enumerable.Range(0, points).Select(k => curve(2.0 * k / (points - 1) - 1)), noise);

    /// <summary>Upper arc of a circle, its top at the origin.</summary>
    internal static Tracing Circle(double radius = 200, int points = 201, double halfAngle = 1.5, double noise = 0) =>
        Section(k => new Point(radius * Math.Sin(halfAngle * k), radius * (Math.Cos(halfAngle * k) - 1)), points, noise);

    /// <summary>Two straight flanks at inclinations in degrees that meet at the origin, each so long (mm).</summary>
    internal static Tracing Gable(double left = 50, double right = 50, double length = 260, int points = 401, double noise = 0) =>
        Section(
            k =>
                k < 0
                    ? new Point(k * length * Math.Cos(left * Math.PI / 180), k * length * Math.Sin(left * Math.PI / 180))
                    : new Point(k * length * Math.Cos(right * Math.PI / 180), -k * length * Math.Sin(right * Math.PI / 180)),
            points,
            noise
        );

    /// <summary>The same side left and right, drawn by its inclination below horizontal (radians) as a function of arc length from
    /// M.</summary>
    internal static Tracing ByInclination(Func<double, double> inclination, double length = 280, double step = 2)
    {
        const int fine = 50;
        List<Point> side = [default];
        var p = default(Point);
        for (var k = 0; k < (int)(length / step); k++)
        {
            for (var j = 0; j < fine; j++)
            {
                var (sin, cos) = Math.SinCos(inclination(step * (k + (j + 0.5) / fine)));
                p += step / fine * new Point(cos, -sin);
            }
            side.Add(p);
        }
        return Section([.. side.Skip(1).Reverse().Select(q => new Point(-q.X, q.Y)), .. side]);
    }

    /// <summary>A topline given by v(u), with u from 0 to a length (mm), and marks at places u.</summary>
    internal static Tracing Topline(
        Func<double, double> v,
        double length = 600,
        double step = 4,
        double noise = 0,
        params (string Name, double U)[] marks
    ) =>
        new()
        {
            Kind = TracingKind.Topline,
            Points = [.. Enumerable.Range(0, 1 + (int)Math.Round(length / step)).Select(k => new Point(k * step, v(k * step)))],
            Marks = marks.ToImmutableSortedDictionary(m => m.Name, m => new Point(m.U, v(m.U)), StringComparer.Ordinal),
            Noise = noise,
        };

    internal static (string Name, double U)[] Stations =>
        [("shoulder", 60), ("behind-shoulder", 162), ("mid-back", 330), ("last-rib", 500)];

    internal static Tracing With(this Tracing tracing, Func<Point, Point> change) =>
        tracing with
        {
            Points = [.. tracing.Points.Select(change)],
            Midline = change(tracing.Midline ?? default),
            Level = tracing.Level is { } level ? new LevelLine(change(level.From), change(level.To)) : null,
            Marks = tracing.Marks.ToImmutableSortedDictionary(m => m.Key, m => change(m.Value), StringComparer.Ordinal),
        };
}
