using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>Curves of drawings as chords that stay within a tolerance of them.</summary>
internal static class Flatten
{
    private const int MostChords = 20_000;

    /// <summary>Adds a cubic Bézier curve without its start; as many chords as its second differences ask for (Wang 1984).</summary>
    internal static void Bezier(List<Point> line, Point a, Point b, Point c, Point d, double tolerance, Drawing drawing)
    {
        var bend = Math.Max((a - 2 * b + c).Length, (b - 2 * c + d).Length);
        var chords = Chords(Math.Sqrt(0.75 * bend / tolerance));
        drawing.Count(chords);
        for (var k = 1; k <= chords; k++)
        {
            double t = (double)k / chords,
                s = 1 - t;
            line.Add(k == chords ? d : s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d);
        }
    }

    /// <summary>Adds an arc of an ellipse without its start: centre + cos·<paramref name="u"/> + sin·<paramref name="v"/>.</summary>
    internal static void Arc(List<Point> line, Point centre, Point u, Point v, double from, double sweep, double tolerance, Drawing drawing)
    {
        var radius = Math.Max(u.Length, v.Length);
        // A chord over an angle α leaves the circle by r(1 − cos α/2) ≈ rα²/8.
        var chords = Chords(Math.Abs(sweep) * Math.Sqrt(radius / (8 * tolerance)));
        drawing.Count(chords);
        for (var k = 1; k <= chords; k++)
        {
            var (sin, cos) = Math.SinCos(from + sweep * k / chords);
            line.Add(centre + cos * u + sin * v);
        }
    }

    internal static int Chords(double wanted) => double.IsNaN(wanted) ? 1 : (int)Math.Clamp(Math.Ceiling(wanted), 1, MostChords);
}
