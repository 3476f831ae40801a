namespace BackHistory.Shape.Smoothing;

/// <summary>
/// Monotone piecewise cubic Hermite interpolation (Fritsch &amp; Carlson 1980 with the slopes of Fritsch &amp; Butland 1984): never
/// overshoots its data.
/// </summary>
internal static class Pchip
{
    /// <summary>Slopes at the points; at least two, strictly ascending in x.</summary>
    internal static double[] Slopes(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        var n = x.Length;
        var slopes = new double[n];
        if (n == 2)
        {
            slopes[0] = slopes[1] = (y[1] - y[0]) / (x[1] - x[0]);
            return slopes;
        }
        for (var i = 1; i < n - 1; i++)
        {
            double h = x[i] - x[i - 1],
                g = x[i + 1] - x[i],
                a = (y[i] - y[i - 1]) / h,
                b = (y[i + 1] - y[i]) / g;
            if (a * b > 0)
                slopes[i] = 3 * (h + g) / ((2 * g + h) / a + (g + 2 * h) / b);
        }
        double first = x[1] - x[0],
            second = x[2] - x[1],
            last = x[n - 1] - x[n - 2],
            before = x[n - 2] - x[n - 3];
        slopes[0] = End(first, second, (y[1] - y[0]) / first, (y[2] - y[1]) / second);
        slopes[n - 1] = End(last, before, (y[n - 1] - y[n - 2]) / last, (y[n - 2] - y[n - 3]) / before);
        return slopes;
    }

    /// <summary>Three-point end slope, held to the sign and three times the size of the nearest chord's.</summary>
    private static double End(double h, double g, double near, double far)
    {
        var slope = ((2 * h + g) * near - h * far) / (h + g);
        if (slope * near <= 0)
            return 0;
        return near * far <= 0 && Math.Abs(slope) > Math.Abs(3 * near) ? 3 * near : slope;
    }

    /// <summary>The value at a place inside the interval that begins at point i.</summary>
    internal static double At(ReadOnlySpan<double> x, ReadOnlySpan<double> y, ReadOnlySpan<double> slopes, int i, double at)
    {
        double h = x[i + 1] - x[i],
            u = (at - x[i]) / h,
            v = 1 - u;
        return v * v * (1 + 2 * u) * y[i] + u * u * (1 + 2 * v) * y[i + 1] + u * v * h * (v * slopes[i] - u * slopes[i + 1]);
    }

    /// <summary>The interval that holds a place; the outermost ones for places outside.</summary>
    internal static int Interval(ReadOnlySpan<double> x, double at)
    {
        var i = x.BinarySearch(at);
        return Math.Clamp(i >= 0 ? i : ~i - 1, 0, x.Length - 2);
    }
}
