namespace BackHistory.Shape;

/// <summary>Finds the least of a smooth criterion over a range: the dip next to a first guess.</summary>
internal static class LambdaSearch
{
    private const double Stride = 2, Tolerance = 1e-3;

    /// <summary>Strides downhill until the dip is enclosed or the range ends, then parabolas; all in the logarithm of λ.</summary>
    internal static double Least(Func<double, double> criterion, double guess, double lowest, double highest)
    {
        double middle = Math.Clamp(guess, lowest, highest), atMiddle = criterion(middle);
        double low = Math.Max(middle - Stride, lowest), atLow = low < middle ? criterion(low) : double.PositiveInfinity;
        double high = Math.Min(middle + Stride, highest), atHigh = high > middle ? criterion(high) : double.PositiveInfinity;
        while (atLow < atMiddle)
        {
            (high, atHigh, middle, atMiddle) = (middle, atMiddle, low, atLow);
            if (middle <= lowest) return lowest;
            low = Math.Max(middle - Stride, lowest);
            atLow = criterion(low);
        }
        while (atHigh < atMiddle)
        {
            (low, atLow, middle, atMiddle) = (middle, atMiddle, high, atHigh);
            if (middle >= highest) return highest;
            high = Math.Min(middle + Stride, highest);
            atHigh = criterion(high);
        }
        return Enclosed(criterion, (low, atLow), (middle, atMiddle), (high, atHigh));
    }

    private static double Enclosed(
        Func<double, double> criterion, (double At, double Value) low, (double At, double Value) middle, (double At, double Value) high)
    {
        for (var step = 0; step < 16; step++)
        {
            var at = Vertex(low, middle, high);
            if (!(at > low.At && at < high.At)) break;
            if (Math.Abs(at - middle.At) < Tolerance) return at;
            var next = (At: at, Value: criterion(at));
            if (next.At < middle.At)
            {
                if (next.Value < middle.Value) (high, middle) = (middle, next); else low = next;
            }
            else if (next.Value < middle.Value) (low, middle) = (middle, next);
            else high = next;
        }
        return middle.At;
    }

    private static double Vertex((double At, double Value) a, (double At, double Value) b, (double At, double Value) c)
    {
        double p = (b.At - a.At) * (b.Value - c.Value), q = (b.At - c.At) * (b.Value - a.Value);
        return b.At - ((b.At - a.At) * p - (b.At - c.At) * q) / (2 * (p - q));
    }
}
