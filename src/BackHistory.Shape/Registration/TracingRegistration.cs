namespace BackHistory.Shape.Registration;

/// <summary>Brings a tracing into the frame of the horse and refuses what cannot be one, first reason first.</summary>
internal static class TracingRegistration
{
    internal const double RepeatMillimetres = 0.1;
    internal const double OffMidlineMillimetres = 15;
    internal const int FewestPoints = 12;

    /// <summary>Points on the midline belong to neither side.</summary>
    private const double OnMidlineMillimetres = 0.1;

    /// <summary>Keeps the search for crossings bounded; 0.1 mm apart, this many points are two metres of line.</summary>
    private const int MostPoints = 20_000;

    internal static (Registered? Registered, Refusal? Refused) Register(Tracing tracing)
    {
        if (TracingForm.Check(tracing) is { } malformed)
            return (null, malformed);
        if (PlausibleSizes.OfTaken(tracing) is { } nowhere)
            return (null, nowhere);
        var frame = Frame.From(tracing);
        var (x, y) = frame.Place(tracing.Points);
        // By name: what comes of a tracing does not hang on the order in which its marks were written down.
        var marks = tracing
            .Marks.OrderBy(m => m.Key, StringComparer.Ordinal)
            .ToDictionary(m => m.Key, m => frame.Place(m.Value), StringComparer.Ordinal);
        if ((PlausibleSizes.OfLine(tracing.Kind, x, y) ?? PlausibleSizes.OfMarks(marks, x, y)) is { } implausible)
            return (null, implausible);

        var nearest = x.Length == 0 ? default : Polyline.Nearest(x, y, default);
        if (tracing.Kind == TracingKind.CrossSection && nearest.Length > OffMidlineMillimetres)
            return (
                null,
                new(
                    Refusal.OffMidline,
                    $"The midline mark lies {nearest.Length:0.#} mm from the traced line; at most {OffMidlineMillimetres} mm are allowed."
                )
            );

        if (x.Length > 1 && x[0] > x[^1])
        {
            Array.Reverse(x);
            Array.Reverse(y);
        }
        DropRepeats(ref x, ref y);
        var refusal = TooFew(tracing.Kind, x, marks) ?? TooMany(x) ?? Crossing(x, y, tracing.Noise) ?? NoStation(tracing.Kind, marks);
        if (refusal is not null)
            return (null, refusal);
        return (
            new Registered
            {
                Kind = tracing.Kind,
                Noise = tracing.Noise,
                X = x,
                Y = y,
                Marks = marks,
                TiltDegrees = frame.TiltDegrees,
                Level = tracing.Level is { } level ? new LevelLine(frame.Place(level.From), frame.Place(level.To)) : null,
                NearestToMidline = nearest,
            },
            null
        );
    }

    private static void DropRepeats(ref double[] x, ref double[] y)
    {
        var kept = 0;
        for (var i = 0; i < x.Length; i++)
        {
            if (kept > 0 && new Point(x[i] - x[kept - 1], y[i] - y[kept - 1]).Length < RepeatMillimetres)
                continue;
            (x[kept], y[kept]) = (x[i], y[i]);
            kept++;
        }
        Array.Resize(ref x, kept);
        Array.Resize(ref y, kept);
    }

    private static Refusal? TooFew(TracingKind kind, double[] x, Dictionary<string, Point> marks)
    {
        if (kind == TracingKind.CrossSection)
        {
            var left = x.Count(v => v < -OnMidlineMillimetres);
            var right = x.Count(v => v > OnMidlineMillimetres);
            return left < FewestPoints ? Few(left, "left of the midline")
                : right < FewestPoints ? Few(right, "right of the midline")
                : null;
        }
        if (marks.Count < 2)
            return x.Length < FewestPoints ? Few(x.Length, "on the topline") : null;
        var (head, tail) = (marks.Values.Min(m => m.X), marks.Values.Max(m => m.X));
        var between = x.Count(v => v >= head && v <= tail);
        return between < FewestPoints ? Few(between, "between the outermost marks") : null;

        static Refusal Few(int count, string where) =>
            new(Refusal.TooFewPoints, $"{count} points {where}; at least {FewestPoints} are needed.");
    }

    private static Refusal? TooMany(double[] x) =>
        x.Length <= MostPoints
            ? null
            : new(Refusal.Unreadable, $"{x.Length} separate points are more than a traced line has; at most {MostPoints} are read.");

    private static Refusal? Crossing(double[] x, double[] y, double noise)
    {
        if (SelfCrossing.Find(x, y, Math.Max(10, 10 * noise)) is not { } loop)
            return null;
        return new(
            Refusal.SelfCrossing,
            $"The line crosses itself at ({loop.At.X:0.#}, {loop.At.Y:0.#}) mm from the midline mark, with a loop of {loop.Arc:0.#} mm: "
                + "trace it again in one pass."
        );
    }

    private static Refusal? NoStation(TracingKind kind, Dictionary<string, Point> marks)
    {
        if (kind == TracingKind.CrossSection)
            return null;
        var missing = marks.ContainsKey(StationMarks.BehindShoulder) ? StationMarks.LastRib : StationMarks.BehindShoulder;
        return marks.ContainsKey(missing)
            ? null
            : new(
                Refusal.NoStationMark,
                $"The topline does not say where '{missing}' is. Its drop is counted from '{StationMarks.BehindShoulder}' to "
                    + $"'{StationMarks.LastRib}': mark both on the line."
            );
    }
}
