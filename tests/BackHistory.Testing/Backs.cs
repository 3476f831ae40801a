using System.Collections.Immutable;
using BackHistory.Shape;

namespace BackHistory.Testing;

/// <summary>Backs of known shape: a rounded ridge and straight flanks, exact.</summary>
public static class Backs
{
    /// <summary>A cross-section whose flanks fall at these angles, in degrees, beyond a ridge of 30 mm radius.</summary>
    public static Tracing Section(double slopeLeft, double slopeRight, string station = "behind-shoulder", double noise = 0)
    {
        var left = Side(slopeLeft);
        var right = Side(slopeRight);
        return new Tracing
        {
            Kind = TracingKind.CrossSection,
            Station = station,
            Noise = noise,
            Points = [.. left.Skip(1).Reverse().Select(p => new Point(-p.X, p.Y)), .. right],
        };
    }

    /// <summary>A topline that sags by this many millimetres between the withers and the last rib.</summary>
    public static Tracing Topline(double drop)
    {
        Point At(double u) => new(u, u is >= 0 and <= 450 ? -drop * Math.Sin(Math.PI * u / 450) : 0.4 * (u < 0 ? u : u - 450));
        var marks = ImmutableDictionary<string, Point>
            .Empty.Add("withers", At(0))
            .Add("behind-shoulder", At(100))
            .Add("mid-back", At(280))
            .Add("last-rib", At(450));
        return new Tracing
        {
            Kind = TracingKind.Topline,
            Points = [.. Enumerable.Range(-3, 60).Select(i => At(i * 10))],
            Marks = marks,
            Noise = 0,
        };
    }

    private static ImmutableArray<Point> Side(double slope)
    {
        const double radius = 30;
        const double step = 4;
        var bend = slope * Math.PI / 180 * radius;
        var points = ImmutableArray.CreateBuilder<Point>();
        points.Add(new Point(0, 0));
        double x = 0,
            y = 0;
        for (var s = 0.0; y > -170 && s < 600; s += 0.5)
        {
            var angle = Math.Min(s, bend) / radius;
            x += 0.5 * Math.Cos(angle);
            y -= 0.5 * Math.Sin(angle);
            if ((s + 0.5) % step == 0)
                points.Add(new Point(x, y));
        }

        return points.ToImmutable();
    }
}
