namespace BackHistory.Shape.Smoothing;

/// <summary>One polynomial piece c0 + c1·u + c2·u² + c3·u³ on 0 ≤ u ≤ h.</summary>
internal readonly record struct Cubic(double C0, double C1, double C2, double C3, double H)
{
    /// <summary>From end values and end second derivatives.</summary>
    internal static Cubic Between(double h, double from, double to, double fromSecond, double toSecond) =>
        new(from, (to - from) / h - h * (2 * fromSecond + toSecond) / 6, fromSecond / 2, (toSecond - fromSecond) / (6 * h), h);

    internal double At(double u) => C0 + u * (C1 + u * (C2 + u * C3));

    private double Slope(double u) => C1 + u * (2 * C2 + u * 3 * C3);

    /// <summary>All u in [0, h] where the piece takes <paramref name="level"/>, ascending; at most three.</summary>
    internal int Solve(double level, Span<double> roots)
    {
        if (NeverReaches(level))
            return 0;
        // Between its turning points the piece is monotone: each stretch holds at most one root, found by a guarded Newton iteration.
        Span<double> stops = [0, 0, 0, 0];
        var count = 1;
        count += Turnings(stops[1..]);
        stops[count] = H;
        var found = 0;
        for (var k = 0; k < count; k++)
        {
            double low = stops[k],
                high = stops[k + 1],
                atLow = At(low) - level,
                atHigh = At(high) - level;
            if (atLow == 0)
            {
                if (found == 0 || roots[found - 1] != low)
                    roots[found++] = low;
                continue;
            }
            if (atHigh == 0)
            {
                roots[found++] = high;
                continue;
            }
            if (atLow > 0 == atHigh > 0)
                continue;
            roots[found++] = Root(level, low, high, atLow < 0);
        }
        return found;
    }

    private double Root(double level, double low, double high, bool rising)
    {
        var u = (low + high) / 2;
        for (var step = 0; step < 60; step++)
        {
            var off = At(u) - level;
            if (off == 0)
                return u;
            if (off < 0 == rising)
                low = u;
            else
                high = u;
            var next = u - off / Slope(u);
            if (!(next > low && next < high))
                next = (low + high) / 2;
            if (Math.Abs(next - u) <= 1e-15 * H)
                return next;
            u = next;
        }
        return u;
    }

    /// <summary>True when the Bézier polygon of the piece lies on one side of the level: the common case, told without solving.</summary>
    private bool NeverReaches(double level)
    {
        double a = C0 - level,
            b = a + C1 * H / 3,
            d = At(H) - level,
            c = d - Slope(H) * H / 3;
        return (a > 0 && b > 0 && c > 0 && d > 0) || (a < 0 && b < 0 && c < 0 && d < 0);
    }

    /// <summary>The places inside (0, H) where the piece turns, ascending; at most two.</summary>
    internal int Turnings(Span<double> places)
    {
        double a = 3 * C3,
            b = 2 * C2,
            c = C1,
            discriminant = b * b - 4 * a * c;
        if (discriminant < 0)
            return 0;
        var q = -(b + Math.CopySign(Math.Sqrt(discriminant), b)) / 2;
        var (first, second) = (q / a, c / q);
        if (double.IsNaN(first) || first > second)
            (first, second) = (second, first);
        var count = 0;
        if (first > 0 && first < H)
            places[count++] = first;
        if (second > 0 && second < H && second != first)
            places[count++] = second;
        return count;
    }
}
