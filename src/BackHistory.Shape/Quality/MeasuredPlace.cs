using System.Globalization;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Quality;

/// <summary>Where on the contour a measure is taken: its side, null for both, and the two ends of the stretch.</summary>
internal static class MeasuredPlace
{
    private const double DeepestMillimetres = 150;

    internal static (string? Side, Point From, Point To) PlaceOf(Contour contour, string measure)
    {
        var (family, at) = measure.Split('@', 2) is [var name, var rest] ? (name, rest) : (measure, "");
        return contour.Kind == TracingKind.Topline ? OnTopline(contour, family, at) : OnSection(contour, family, at);
    }

    private static (string? Side, Point From, Point To) OnSection(Contour contour, string family, string at)
    {
        if (family is "mark-lateral" or "mark-depth")
            return Mark(contour, at);
        var (inner, outer) = family switch
        {
            "slope-left" or "slope-right" => (Arc(40), Arc(140)),
            "opening" or "skew-slope" => (Arc(140), Arc(140)),
            "fill-left" or "fill-right" => (Arc(0), Arc(150)),
            "skew-shape" => (Arc(150), Arc(150)),
            "ridge-radius" => (Arc(40), Arc(40)),
            "half-area-left" or "half-area-right" => (Arc(0), Depth()),
            "width" or "skew-area" or "width-ratio" => (Depth(), Depth()),
            _ => (End, (Func<Side, Point?>)End),
        };
        Side? side =
            family.EndsWith("-left", StringComparison.Ordinal) ? Side.Left
            : family.EndsWith("-right", StringComparison.Ordinal) ? Side.Right
            : null;
        return (Named(side), inner(side ?? Side.Left) ?? default, outer(side ?? Side.Right) ?? default);

        Func<Side, Point?> Arc(double arc) => side => contour.ArmOn(side)!.AtArc(arc)?.At;

        Func<Side, Point?> Depth() =>
            side => contour.CrossingAtDepth(side, at.Length > 0 ? double.Parse(at, CultureInfo.InvariantCulture) : DeepestMillimetres);

        Point? End(Side side) => contour.Curve.At(contour.ArmOn(side)!.End);
    }

    /// <summary>From M to the mark.</summary>
    private static (string? Side, Point From, Point To) Mark(Contour contour, string named)
    {
        var side = named.EndsWith("-left", StringComparison.Ordinal) ? "left" : "right";
        // A mark whose name says no side is measured under the one it lies on.
        _ = contour.Marks.TryGetValue(named, out var mark) || contour.Marks.TryGetValue(named[..^(side.Length + 1)], out mark);
        return (side, default, mark);
    }

    private static (string? Side, Point From, Point To) OnTopline(Contour contour, string family, string at)
    {
        var line = new Topline(contour);
        foreach (var name in contour.Marks.Keys)
            if (at.StartsWith(name + "-", StringComparison.Ordinal) && line.At(name) is { } a && line.At(at[(name.Length + 1)..]) is { } b)
                return (null, a.At, b.At);
        var start = family.StartsWith("topline-drop", StringComparison.Ordinal) ? StationMarks.Withers : StationMarks.BehindShoulder;
        return (null, AtMarkOr(start, contour.Curve.Start), AtMarkOr(StationMarks.LastRib, contour.Curve.End));

        Point AtMarkOr(string mark, double end) => line.At(mark)?.At ?? contour.Curve.At(end);
    }

    private static string? Named(Side? side) =>
        side switch
        {
            Side.Left => "left",
            Side.Right => "right",
            _ => null,
        };
}
