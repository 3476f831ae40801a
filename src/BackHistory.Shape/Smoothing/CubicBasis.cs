namespace BackHistory.Shape.Smoothing;

/// <summary>
/// Cubic B-splines on equally spaced breakpoints (de Boor, A Practical Guide to Splines, chapter IX): interval i carries the four
/// splines i … i + 3, so there are three more splines than intervals.
/// </summary>
internal readonly record struct CubicBasis(double From, double Step, int Intervals)
{
    internal double To => From + Intervals * Step;

    internal int Count => Intervals + 3;

    /// <summary>
    /// The interval that holds a parameter and the place inside it, 0 … 1; the outermost intervals go on beyond the ends.
    /// </summary>
    internal (int Interval, double Within) Locate(double at)
    {
        var place = (at - From) / Step;
        var interval = Math.Clamp((int)place, 0, Intervals - 1);
        return (interval, place - interval);
    }

    internal static void Values(double u, Span<double> four)
    {
        var v = 1 - u;
        four[0] = v * v * v / 6;
        four[1] = (3 * u * u * u - 6 * u * u + 4) / 6;
        four[2] = (-3 * u * u * u + 3 * u * u + 3 * u + 1) / 6;
        four[3] = u * u * u / 6;
    }

    /// <summary>First derivatives by the parameter.</summary>
    internal void Slopes(double u, Span<double> four)
    {
        var v = 1 - u;
        four[0] = -v * v / (2 * Step);
        four[1] = (3 * u * u - 4 * u) / (2 * Step);
        four[2] = (-3 * u * u + 2 * u + 1) / (2 * Step);
        four[3] = u * u / (2 * Step);
    }
}
