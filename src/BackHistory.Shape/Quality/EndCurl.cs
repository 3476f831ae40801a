using BackHistory.Shape.Contours;

namespace BackHistory.Shape.Quality;

/// <summary>`end-curl`: an end that turns back towards the midline under the belly, or up again.</summary>
internal static class EndCurl
{
    private const double CurlMillimetres = 10;

    internal static void Judge(Arm arm, List<QualityFlag> flags)
    {
        var end = arm.Curve.At(arm.End);
        double outermostAt = arm.End,
            lowestAt = arm.End;
        Point outermost = end,
            lowest = end;
        var count = arm.Curve.Count;
        for (var i = 0; i < count; i++)
        {
            var at = arm.Curve.Knot(i);
            if (arm.Outwards * (at - arm.Midline) < 0)
                continue;
            var point = new Point(arm.Curve.KnotX[i], arm.Curve.KnotY[i]);
            if (arm.Outwards * point.X > arm.Outwards * outermost.X)
                (outermost, outermostAt) = (point, at);
            if (point.Y < lowest.Y)
                (lowest, lowestAt) = (point, at);
        }
        var (inwards, upwards) = (arm.Outwards * (outermost.X - end.X), end.Y - lowest.Y);
        if (inwards <= CurlMillimetres && upwards <= CurlMillimetres)
            return;
        var (from, fromAt) = inwards > CurlMillimetres ? (outermost, outermostAt) : (lowest, lowestAt);
        var length = Math.Abs(arm.Curve.ArcAt(arm.End) - arm.Curve.ArcAt(fromAt));
        flags.Add(new("end-curl", arm.Side == Side.Left ? "left" : "right", from, end, length));
    }
}
