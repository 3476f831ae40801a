using System.Collections.Immutable;
using BackHistory.Shape;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Formats.Meshes;

/// <summary>
/// The lines in which a mesh is cut by a plane across the horse. Corners on the plane count as behind it, so that every cut edge is cut
/// once.
/// </summary>
internal static class MeshLoops
{
    internal sealed record Loop(List<Point> Points, bool Closed);

    internal static List<Loop> At(ImmutableArray<Triangle> triangles, Point3[] placed, double fromDatum)
    {
        var nodes = new Nodes(placed, fromDatum);
        foreach (var t in triangles)
        {
            bool a = placed[t.A].Z >= fromDatum,
                b = placed[t.B].Z >= fromDatum,
                c = placed[t.C].Z >= fromDatum;
            if (a == b && b == c)
                continue;
            // The corner that is alone on its side is an end of both cut edges.
            if (a == b)
                nodes.Join(t.C, t.A, t.B);
            else if (a == c)
                nodes.Join(t.B, t.A, t.C);
            else
                nodes.Join(t.A, t.B, t.C);
        }
        return nodes.Walk();
    }

    private sealed class Nodes(Point3[] placed, double plane)
    {
        private readonly Dictionary<long, int> byEdge = [];
        private readonly List<Point> points = [];
        private readonly List<(int First, int Second)> neighbours = [];

        internal void Join(int alone, int one, int other)
        {
            var (a, b) = (Node(alone, one), Node(alone, other));
            if (a == b)
                return;
            Link(a, b);
            Link(b, a);
        }

        /// <summary>Edges of more than two faces keep the first two: such a mesh has no inside.</summary>
        private void Link(int from, int to)
        {
            var (first, second) = neighbours[from];
            if (first < 0)
                neighbours[from] = (to, second);
            else if (second < 0)
                neighbours[from] = (first, to);
        }

        private int Node(int i, int j)
        {
            var key = ((long)Math.Min(i, j) << 32) | (uint)Math.Max(i, j);
            if (byEdge.TryGetValue(key, out var known))
                return known;
            Point3 a = placed[Math.Min(i, j)],
                b = placed[Math.Max(i, j)];
            var share = (plane - a.Z) / (b.Z - a.Z);
            points.Add(new Point(a.X + share * (b.X - a.X), a.Y + share * (b.Y - a.Y)));
            neighbours.Add((-1, -1));
            return byEdge[key] = points.Count - 1;
        }

        internal List<Loop> Walk()
        {
            var (loops, used) = (new List<Loop>(), new bool[points.Count]);
            // Open lines first, from their ends; what is left are closed ones.
            for (var k = 0; k < points.Count; k++)
                if (!used[k] && neighbours[k].Second < 0)
                    loops.Add(new Loop(From(k, used), false));
            for (var k = 0; k < points.Count; k++)
                if (!used[k])
                {
                    var line = From(k, used);
                    line.Add(line[0]);
                    loops.Add(new Loop(line, true));
                }
            return loops;
        }

        private List<Point> From(int start, bool[] used)
        {
            var line = new List<Point>();
            for (var at = start; at >= 0 && !used[at]; )
            {
                used[at] = true;
                line.Add(points[at]);
                var (first, second) = neighbours[at];
                at = first >= 0 && !used[first] ? first : second;
            }
            return line;
        }
    }
}
