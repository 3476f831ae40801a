namespace BackHistory.Shape.Smoothing;

/// <summary>Finds the least of a smooth criterion over a range: the dip next to a first guess.</summary>
internal static class LambdaSearch
{
    private const double Stride = 2;

    /// <summary>Half widths of the parabolas that close in on the dip; the last is far wider than the rounding of a criterion
    /// shows.</summary>
    private static readonly double[] Narrower = [0.5, 0.1];

    /// <summary>Most steps of one width, should a criterion be so rough that it never ends.</summary>
    private const int MostSteps = 8;

    /// <summary>
    /// Strides downhill until the dip is enclosed or the range ends, then parabolas of fixed width about it, all in the logarithm of λ.
    /// Where it ends hangs smoothly on the points: a tracing turned by a degree measures the same.
    /// </summary>
    internal static double Least(Func<double, double> criterion, double guess, double lowest, double highest)
    {
        double middle = Math.Clamp(guess, lowest, highest),
            atMiddle = criterion(middle);
        double low = Math.Max(middle - Stride, lowest),
            atLow = low < middle ? criterion(low) : double.PositiveInfinity;
        double high = Math.Min(middle + Stride, highest),
            atHigh = high > middle ? criterion(high) : double.PositiveInfinity;
        while (atLow < atMiddle)
        {
            (high, atHigh, middle, atMiddle) = (middle, atMiddle, low, atLow);
            if (middle <= lowest)
                return lowest;
            low = Math.Max(middle - Stride, lowest);
            atLow = criterion(low);
        }
        while (atHigh < atMiddle)
        {
            (low, atLow, middle, atMiddle) = (middle, atMiddle, high, atHigh);
            if (middle >= highest)
                return highest;
            high = Math.Min(middle + Stride, highest);
            atHigh = criterion(high);
        }
        // A first guess at the end of the range has no neighbour on one side.
        if (low == middle || high == middle)
            return middle;
        return Enclosed(criterion, (low, atLow), (middle, atMiddle), (high, atHigh));
    }

    private static double Enclosed(
        Func<double, double> criterion,
        (double At, double Value) low,
        (double At, double Value) middle,
        (double At, double Value) high
    )
    {
        var at = Vertex(low, middle, high);
        foreach (var width in Narrower)
            for (var step = 0; step < MostSteps; step++)
            {
                var (below, here, above) = (criterion(at - width), criterion(at), criterion(at + width));
                if (below < here)
                    at -= width;
                else if (above < here)
                    at += width;
                else
                {
                    at = Vertex((at - width, below), (at, here), (at + width, above));
                    break;
                }
            }
        return at;
    }

    /// <summary>Lowest place of the parabola through three points; the middle one where all are level.</summary>
    private static double Vertex((double At, double Value) a, (double At, double Value) b, (double At, double Value) c)
    {
        double p = (b.At - a.At) * (b.Value - c.Value),
            q = (b.At - c.At) * (b.Value - a.Value);
        return p == q ? b.At : b.At - ((b.At - a.At) * p - (b.At - c.At) * q) / (2 * (p - q));
    }
}
