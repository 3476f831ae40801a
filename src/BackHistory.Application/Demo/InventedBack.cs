using System.Collections.Immutable;
using BackHistory.Shape;

namespace BackHistory.Application.Demo;

/// <summary>A back as it truly is on one day, at one station. Angles in degrees below horizontal, lengths in millimetres.</summary>
/// <param name="HollowLeft">Degrees by which that side steepens under the ridge and flattens below: what lost muscle looks like.</param>
internal readonly record struct InventedSection(double SlopeLeft, double SlopeRight, double HollowLeft, double HollowRight, double Ridge);

/// <summary>The topline on one day.</summary>
/// <param name="Drop">Depth of the deepest place below the straight line from the withers to the last rib.</param>
internal readonly record struct InventedTopline(double Drop, double Length);

/// <summary>What one pair of hands does to a tracing on one day.</summary>
/// <param name="Lean">Degrees by which this person reads both sides steeper.</param>
/// <param name="Roll">Degrees by which the sheet's level was off that day.</param>
internal readonly record struct InventedHand(double Lean, double Roll, double Noise);

/// <summary>Simulates a contour from its inclination along the arc, and traces it with noise.</summary>
internal static class InventedBack
{
    private const double Step = 1.0;
    private const double PenStep = 5.0;
    private const double Depth = 170;

    public static Tracing Section(InventedSection back, string station, InventedHand hand, Chance chance)
    {
        var left = Side(back.SlopeLeft + hand.Lean, back.HollowLeft, back.Ridge);
        var right = Side(back.SlopeRight + hand.Lean, back.HollowRight, back.Ridge);
        var points = ImmutableArray.CreateBuilder<Point>(left.Count + right.Count);
        for (var i = left.Count - 1; i > 0; i--)
            points.Add(Penned(new Point(-left[i].X, left[i].Y), hand, chance));
        foreach (var p in right)
            points.Add(Penned(p, hand, chance));
        return new Tracing
        {
            Kind = TracingKind.CrossSection,
            Station = station,
            Points = points.ToImmutable(),
            Midline = new Point(0, 0),
            Noise = Math.Max(0.3, hand.Noise),
        };
    }

    public static Tracing Topline(InventedTopline back, InventedHand hand, Chance chance)
    {
        var points = ImmutableArray.CreateBuilder<Point>();
        for (var u = 0.0; u <= back.Length + 120; u += PenStep * 2)
            points.Add(Penned(At(back, u), hand with { Roll = 0 }, chance));
        var marks = ImmutableDictionary.CreateBuilder<string, Point>(StringComparer.Ordinal);
        marks["withers"] = At(back, 20);
        marks["shoulder"] = At(back, 40);
        marks["behind-shoulder"] = At(back, 142);
        marks["mid-back"] = At(back, 142 + (back.Length - 142) * 0.55);
        marks["last-rib"] = At(back, back.Length);
        return new Tracing
        {
            Kind = TracingKind.Topline,
            Points = points.ToImmutable(),
            Marks = marks.ToImmutable(),
            Noise = Math.Max(0.3, hand.Noise),
        };
    }

    /// <summary>One side from the midline outwards, a pen's step apart.</summary>
    private static List<Point> Side(double slope, double hollow, double ridge)
    {
        var points = new List<Point> { new(0, 0) };
        double x = 0,
            y = 0,
            penned = 0;
        for (var s = 0.0; y > -Depth && s < 420; s += Step)
        {
            var angle = Inclination(s + Step / 2, slope, hollow, ridge) * Math.PI / 180;
            x += Step * Math.Cos(angle);
            y -= Step * Math.Sin(angle);
            penned += Step;
            if (penned < PenStep)
                continue;
            points.Add(new Point(x, y));
            penned = 0;
        }

        return points;
    }

    private static double Inclination(double s, double slope, double hollow, double ridge)
    {
        var angle = slope * (1 - Math.Exp(-Math.Pow(s / ridge, 1.6)));
        angle += hollow * (Math.Exp(-Square((s - 60) / 28)) - Math.Exp(-Square((s - 125) / 34)));
        if (s > 150)
            angle += (78 - slope) * (1 - Math.Exp(-Square((s - 150) / 95)));
        return Math.Clamp(angle, 0, 88);
    }

    private static Point At(InventedTopline back, double u)
    {
        var along = (u - 20) / (back.Length - 20);
        var line = 40 - 30 * along;
        if (along <= 0)
            return new Point(u, line - Square((u - 20) / 12));
        return along >= 1
            ? new Point(u, line + 18 * Math.Sin(Math.Min(1, along - 1) * Math.PI) + back.Drop * Math.PI * (along - 1))
            : new Point(u, line - back.Drop * Math.Sin(Math.PI * along));
    }

    private static Point Penned(Point p, InventedHand hand, Chance chance)
    {
        var roll = hand.Roll * Math.PI / 180;
        return new Point(
            Math.Round(p.X * Math.Cos(roll) - p.Y * Math.Sin(roll) + chance.Normal(0, hand.Noise), 2),
            Math.Round(p.X * Math.Sin(roll) + p.Y * Math.Cos(roll) + chance.Normal(0, hand.Noise), 2)
        );
    }

    private static double Square(double value) => value * value;
}
