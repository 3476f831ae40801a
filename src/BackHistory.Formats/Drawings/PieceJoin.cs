using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>Joins pieces of lines whose ends meet, whichever way each was drawn.</summary>
internal static class PieceJoin
{
    /// <summary>Bounds the work on a heap of ends in one place.</summary>
    private const int MostTried = 64;

    /// <summary>Where three ends meet the first two found are joined. Linear in the number of pieces.</summary>
    internal static List<(string Layer, List<Point> Points)> Join(List<(string Layer, List<Point> Points)> pieces, double tolerance)
    {
        var ends = new Dictionary<(string, long, long), List<int>>();
        for (var i = 0; i < pieces.Count; i++)
            foreach (var cell in new[] { Cell(i, pieces[i].Points[0]), Cell(i, pieces[i].Points[^1]) })
                (ends.TryGetValue(cell, out var here) ? here : ends[cell] = []).Add(i);
        var used = new bool[pieces.Count];
        var joined = new List<(string, List<Point>)>();
        for (var i = 0; i < pieces.Count; i++)
        {
            if (used[i])
                continue;
            used[i] = true;
            // Forwards from the last point, then, turned round, from what was the first.
            var line = new List<Point>(pieces[i].Points);
            for (var turn = 0; turn < 2; turn++)
            {
                while (Follower(i, line) is { } next)
                    line.AddRange(next.Skip(1));
                line.Reverse();
            }
            joined.Add((pieces[i].Layer, line));
        }
        return joined;

        (string, long, long) Cell(int piece, Point p) =>
            (pieces[piece].Layer, (long)Math.Floor(p.X / tolerance), (long)Math.Floor(p.Y / tolerance));

        IEnumerable<Point>? Follower(int layerOf, List<Point> line)
        {
            var end = line[^1];
            var (layer, cx, cy) = Cell(layerOf, end);
            for (var dx = -1; dx <= 1; dx++)
            for (var dy = -1; dy <= 1; dy++)
            {
                if (!ends.TryGetValue((layer, cx + dx, cy + dy), out var here))
                    continue;
                for (var k = here.Count - 1; k >= Math.Max(0, here.Count - MostTried); k--)
                {
                    var i = here[k];
                    if (used[i])
                    {
                        // Order does not matter, so that a used end leaves in one step.
                        here[k] = here[^1];
                        here.RemoveAt(here.Count - 1);
                        continue;
                    }
                    var points = pieces[i].Points;
                    var forwards = (points[0] - end).Length <= tolerance;
                    if (!forwards && (points[^1] - end).Length > tolerance)
                        continue;
                    used[i] = true;
                    return forwards ? points : points.AsEnumerable().Reverse();
                }
            }
            return null;
        }
    }
}
