namespace BackHistory.Shape.Smoothing;

/// <summary>Interpolating cubic spline with not-a-knot ends (de Boor, A Practical Guide to Splines, chapter IV).</summary>
internal static class NotAKnot
{
    /// <summary>Second derivatives at the knots; at least four knots, strictly ascending.</summary>
    internal static double[] SecondDerivatives(double[] t, double[] z)
    {
        var n = t.Length;
        double H(int i) => t[i + 1] - t[i];
        var (diagonal, upper, lower, right) = (new double[n], new double[n], new double[n], new double[n]);
        for (var i = 1; i < n - 1; i++)
        {
            (lower[i], diagonal[i], upper[i]) = (H(i - 1), 2 * (H(i - 1) + H(i)), H(i));
            right[i] = 6 * ((z[i + 1] - z[i]) / H(i) - (z[i] - z[i - 1]) / H(i - 1));
        }
        // One cubic over the first two intervals, one over the last two: the outermost unknowns are eliminated.
        double a = H(0),
            b = H(1),
            c = H(n - 2),
            d = H(n - 3);
        (diagonal[1], upper[1]) = ((a + b) * (a + 2 * b) / b, (b * b - a * a) / b);
        (diagonal[n - 2], lower[n - 2]) = ((c + d) * (c + 2 * d) / d, (d * d - c * c) / d);
        for (var i = 2; i < n - 1; i++)
        {
            var factor = lower[i] / diagonal[i - 1];
            diagonal[i] -= factor * upper[i - 1];
            right[i] -= factor * right[i - 1];
        }
        var seconds = new double[n];
        for (var i = n - 2; i >= 1; i--)
            seconds[i] = (right[i] - (i < n - 2 ? upper[i] * seconds[i + 1] : 0)) / diagonal[i];
        seconds[0] = seconds[1] - a / b * (seconds[2] - seconds[1]);
        seconds[n - 1] = seconds[n - 2] + c / d * (seconds[n - 2] - seconds[n - 3]);
        return seconds;
    }
}
