using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>The two sides of a cross-section, each from the midline outwards.</summary>
internal sealed record Halves(IReadOnlyList<PlanePoint> Left, IReadOnlyList<PlanePoint> Right)
{
    /// <summary>Parts a curve where it crosses the midline nearest to the midline point; a curve on one side only has one half.</summary>
    public static Halves Split(IReadOnlyList<PlanePoint> points)
    {
        var crossing = Enumerable
            .Range(1, points.Count - 1)
            .Where(i => points[i - 1].X <= 0 && points[i].X > 0)
            .OrderBy(i => Math.Abs(Middle(points[i - 1], points[i]).Y))
            .FirstOrDefault(-1);
        if (crossing < 0)
            return points[0].X < 0 ? new([.. points.Reverse()], []) : new([], points);
        var middle = Middle(points[crossing - 1], points[crossing]);
        return new([middle, .. points.Take(crossing).Reverse()], [middle, .. points.Skip(crossing)]);
    }

    static PlanePoint Middle(PlanePoint left, PlanePoint right)
    {
        var part = -left.X / (right.X - left.X);
        return new(0, left.Y + part * (right.Y - left.Y));
    }

    public static IReadOnlyList<PlanePoint> Mirrored(IReadOnlyList<PlanePoint> half) => [.. half.Select(p => new PlanePoint(-p.X, p.Y))];

    /// <summary>The pieces of a half that were traced. A gap belongs to a half if both its ends lie on it, within a millimetre.</summary>
    public static IEnumerable<IReadOnlyList<PlanePoint>> WithoutGaps(IReadOnlyList<PlanePoint> half, IReadOnlyList<CurveGap> gaps)
    {
        var cuts = gaps.Select(g => (From: Place(half, g.From), To: Place(half, g.To)))
            .Where(c => c.From >= 0 && c.To >= 0)
            .Select(c => (From: Math.Min(c.From, c.To), To: Math.Max(c.From, c.To)))
            .OrderBy(c => c.From);
        var start = 0;
        foreach (var (from, to) in cuts)
        {
            if (from > start)
                yield return [.. half.Skip(start).Take(from - start + 1)];
            start = Math.Max(start, to);
        }
        if (half.Count - start > 1)
            yield return [.. half.Skip(start)];
    }

    static int Place(IReadOnlyList<PlanePoint> half, PlanePoint end)
    {
        if (half.Count == 0)
            return -1;
        double Distance(int i) => Math.Pow(half[i].X - end.X, 2) + Math.Pow(half[i].Y - end.Y, 2);
        var nearest = Enumerable.Range(0, half.Count).MinBy(Distance);
        return Distance(nearest) <= 1 ? nearest : -1;
    }
}
