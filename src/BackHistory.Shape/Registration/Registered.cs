namespace BackHistory.Shape.Registration;

/// <summary>
/// A tracing in the frame of the horse: millimetres, level, the midline mark at the origin, points from left to right (from head to
/// tail), no two neighbours closer than <see cref="TracingRegistration.RepeatMillimetres"/>.
/// </summary>
internal sealed class Registered
{
    internal required TracingKind Kind { get; init; }
    internal required double Noise { get; init; }
    internal required double[] X { get; init; }
    internal required double[] Y { get; init; }
    internal required IReadOnlyDictionary<string, Point> Marks { get; init; }

    /// <summary>Turn of the level line against the axes as taken, degrees, −180 … 180.</summary>
    internal required double TiltDegrees { get; init; }
    internal LevelLine? Level { get; init; }

    /// <summary>The midline mark; the origin until M takes its place.</summary>
    internal Point Midline { get; init; }

    /// <summary>The point of the traced polyline that is nearest to the midline mark.</summary>
    internal Point NearestToMidline { get; init; }

    internal int Count => X.Length;

    /// <summary>The same in a frame whose origin lies <paramref name="height"/> mm higher.</summary>
    internal Registered Lowered(double height)
    {
        Point Lower(Point p) => new(p.X, p.Y - height);
        return new Registered
        {
            Kind = Kind,
            Noise = Noise,
            X = X,
            Y = Array.ConvertAll(Y, v => v - height),
            Marks = Marks.ToDictionary(m => m.Key, m => Lower(m.Value), StringComparer.Ordinal),
            TiltDegrees = TiltDegrees,
            Level = Level is { } level ? new LevelLine(Lower(level.From), Lower(level.To)) : null,
            Midline = Lower(Midline),
            NearestToMidline = Lower(NearestToMidline),
        };
    }

    internal Point this[int i] => new(X[i], Y[i]);
}
