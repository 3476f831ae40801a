namespace BackHistory.Shape.Smoothing;

/// <summary>Where on a curve each traced point belongs.</summary>
internal static class Parameters
{
    /// <summary>Cumulative chord length.</summary>
    internal static double[] OfChord(double[] x, double[] y)
    {
        var t = new double[x.Length];
        for (var i = 1; i < t.Length; i++)
            t[i] = t[i - 1] + new Point(x[i] - x[i - 1], y[i] - y[i - 1]).Length;
        return t;
    }

    /// <summary>
    /// Cumulative chord length of moving averages over about six standard deviations of the noise: the chords of dense noisy points
    /// are far longer than the line they stand for. Where the points lie further apart than that, the chords are those of the points: an
    /// average over unevenly spaced neighbours would misplace them along the curve by millimetres.
    /// </summary>
    internal static double[] OfAveragedChord(double[] x, double[] y, double noise)
    {
        var n = x.Length;
        var extent = new Point(x.Max() - x.Min(), y.Max() - y.Min()).Length;
        var reach = (int)Math.Clamp(3 * noise * n / extent, 0, n / 8.0);
        double[] sumX = new double[n + 1],
            sumY = new double[n + 1],
            t = new double[n];
        for (var i = 0; i < n; i++)
            (sumX[i + 1], sumY[i + 1]) = (sumX[i] + x[i], sumY[i] + y[i]);
        var before = Mean(0);
        for (var i = 1; i < n; i++)
        {
            var here = Mean(i);
            // Windows shrink towards the ends so that they stay centred; a least step keeps the order strict.
            t[i] = t[i - 1] + Math.Max((here - before).Length, 1e-3 * extent / n);
            before = here;
        }
        return t;

        Point Mean(int i)
        {
            var half = Math.Min(reach, Math.Min(i, n - 1 - i));
            int from = i - half,
                to = i + half + 1;
            return 1.0 / (to - from) * new Point(sumX[to] - sumX[from], sumY[to] - sumY[from]);
        }
    }

    /// <summary>
    /// Replaces each parameter by that of the foot of its point on the curve; past an end the curve goes on along its tangent. Returns
    /// the sum of squared distances of the points from their feet, mm².
    /// </summary>
    internal static double MoveToFeet(PenalisedFit curve, double[] x, double[] y, double[] t)
    {
        var (start, end, farthest, squares) = (curve.Basis.From, curve.Basis.To, 4 * curve.Basis.Step, 0.0);
        for (var k = 0; k < t.Length; k++)
        {
            var (p, at, wanted, across) = (new Point(x[k], y[k]), Math.Clamp(t[k], start, end), 0.0, 0.0);
            for (var step = 0; step < 10; step++)
            {
                var (place, velocity) = curve.PlaceAndVelocity(at);
                var (off, square) = (p - place, velocity.Dot(velocity));
                var move = Math.Clamp(off.Dot(velocity) / square, -farthest, farthest);
                across = off.Cross(velocity) * off.Cross(velocity) / square;
                wanted = at + move;
                at = Math.Clamp(wanted, start, end);
                if (Math.Abs(move) < 1e-6 || at != wanted)
                    break;
            }
            t[k] = wanted;
            squares += across;
        }
        return squares;
    }
}
