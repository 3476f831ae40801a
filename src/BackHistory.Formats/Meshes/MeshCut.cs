using System.Collections.Immutable;
using BackHistory.Shape;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Formats.Meshes;

/// <summary>Cuts a mesh across the horse at stations and takes the upper outline of each cut as a tracing.</summary>
public static class MeshCut
{
    /// <param name="stations">name and distance from the datum towards the tail, mm</param>
    /// <param name="depth">how far below the midline the outline is followed, mm; it also ends where a side crosses under the belly</param>
    /// <param name="noise">of the scanner, mm</param>
    public static IReadOnlyList<MeshSection> At(
        TriangleMesh mesh,
        MeshFrame frame,
        IEnumerable<(string Station, double FromDatum)> stations,
        double depth = 220,
        double noise = 0.5,
        CancellationToken cancel = default
    )
    {
        var wanted = stations.ToArray();
        if (Axes.From(frame) is not { } axes)
        {
            const string Flat = "Up and towards the tail must be two different directions, and the unit a length.";
            return None(new Refusal(Refusal.Unreadable, Flat));
        }
        var placed = axes.Place(mesh.Vertices);
        if (!Array.TrueForAll(placed, PlausibleSizes.InRoom))
            return None(PlausibleSizes.OffSheet);
        return
        [
            .. wanted.Select(s =>
            {
                cancel.ThrowIfCancellationRequested();
                var outline = Outline(MeshLoops.At(mesh.Triangles, placed, s.FromDatum), depth);
                return outline is null
                    ? new MeshSection(
                        s.Station,
                        s.FromDatum,
                        null,
                        new(Refusal.NoLine, $"The mesh has no back over the median plane {s.FromDatum:0.#} mm behind the datum.")
                    )
                    : new MeshSection(
                        s.Station,
                        s.FromDatum,
                        new Tracing
                        {
                            Kind = TracingKind.CrossSection,
                            Station = s.Station,
                            Points = outline.Value.Points,
                            Midline = outline.Value.Midline,
                            Noise = noise,
                        },
                        null
                    );
            }),
        ];

        IReadOnlyList<MeshSection> None(Refusal refusal) => [.. wanted.Select(s => new MeshSection(s.Station, s.FromDatum, null, refusal))];
    }

    /// <summary>The loop that crosses the median plane highest, followed from there to both sides.</summary>
    private static (ImmutableArray<Point> Points, Point Midline)? Outline(List<MeshLoops.Loop> loops, double depth)
    {
        (MeshLoops.Loop Loop, int Before, Point At)? top = null;
        foreach (var loop in loops)
            for (var k = 0; k + 1 < loop.Points.Count; k++)
            {
                Point a = loop.Points[k],
                    b = loop.Points[k + 1];
                if (a.X < 0 == b.X < 0)
                    continue;
                var at = a + a.X / (a.X - b.X) * (b - a);
                if (top is null || at.Y > top.Value.At.Y)
                    top = (loop, k, at);
            }
        if (top is not { } found)
            return null;
        var back = Follow(found.Loop, found.Before, -1, found.At, depth);
        var forth = Follow(found.Loop, found.Before + 1, 1, found.At, depth);
        back.Reverse();
        ImmutableArray<Point> points = [.. back, found.At, .. forth];
        return (points[0].X <= points[^1].X ? points : [.. points.Reverse()], found.At);
    }

    private static List<Point> Follow(MeshLoops.Loop loop, int from, int step, Point top, double depth)
    {
        var side = new List<Point>();
        // A closed loop repeats its first point at its end: one of the two is passed over.
        var count = loop.Closed ? loop.Points.Count - 1 : loop.Points.Count;
        for (var taken = 0; taken < count; taken++)
        {
            var k = from + step * taken;
            if (loop.Closed)
                k = ((k % count) + count) % count;
            else if (k < 0 || k >= count)
                break;
            var p = loop.Points[k];
            if (side.Count > 0 && p.X < 0 != side[0].X < 0)
                break;
            side.Add(p);
            if (p.Y < top.Y - depth)
                break;
        }
        return side;
    }

    /// <summary>The axes of the horse in the coordinates of the mesh.</summary>
    private sealed record Axes(Point3 Datum, Point3 Right, Point3 Up, Point3 Tail)
    {
        internal static Axes? From(MeshFrame frame)
        {
            var up = Unit(frame.Up);
            var tail = Unit(frame.Tail - frame.Tail.Dot(up) * up);
            var scale = frame.MillimetresPerUnit;
            if (!up.IsFinite || !tail.IsFinite || !frame.Datum.IsFinite || !(scale > 0) || !double.IsFinite(scale))
                return null;
            return new Axes(frame.Datum, scale * up.Cross(tail), scale * up, scale * tail);

            static Point3 Unit(Point3 v) => v.Length > 1e-9 ? 1 / v.Length * v : new(double.NaN, 0, 0);
        }

        internal Point3[] Place(ImmutableArray<Point3> vertices)
        {
            var placed = new Point3[vertices.Length];
            for (var k = 0; k < placed.Length; k++)
            {
                var p = vertices[k] - Datum;
                placed[k] = new Point3(p.Dot(Right), p.Dot(Up), p.Dot(Tail));
            }
            return placed;
        }
    }
}
