namespace BackHistory.Shape;

/// <summary>Finds the penalty with the least criterion, on a logarithmic scale.</summary>
internal static class LambdaSearch
{
    private const double Stride = 2, FarthestStrides = 12, Tolerance = 0.02;

    /// <summary>λ of the dip next to a first guess: strides downhill until it is enclosed, then parabolas.</summary>
    internal static double Least(Func<double, double> criterion, double guess)
    {
        double middle = guess, atMiddle = criterion(middle);
        double low = middle - Stride, atLow = criterion(low), high = middle + Stride, atHigh = criterion(high);
        for (var stride = 0; stride < FarthestStrides && atLow < atMiddle; stride++)
        {
            (high, atHigh, middle, atMiddle) = (middle, atMiddle, low, atLow);
            low -= Stride;
            atLow = criterion(low);
        }
        for (var stride = 0; stride < FarthestStrides && atHigh < atMiddle; stride++)
        {
            (low, atLow, middle, atMiddle) = (middle, atMiddle, high, atHigh);
            high += Stride;
            atHigh = criterion(high);
        }
        for (var step = 0; step < 12; step++)
        {
            var next = Vertex(low, atLow, middle, atMiddle, high, atHigh);
            if (!(next > low && next < high)) break;
            if (Math.Abs(next - middle) < Tolerance) return Math.Exp(next);
            var atNext = criterion(next);
            if (next < middle)
            {
                if (atNext < atMiddle) (high, atHigh, middle, atMiddle) = (middle, atMiddle, next, atNext);
                else (low, atLow) = (next, atNext);
            }
            else if (atNext < atMiddle) (low, atLow, middle, atMiddle) = (middle, atMiddle, next, atNext);
            else (high, atHigh) = (next, atNext);
        }
        return Math.Exp(middle);
    }

    private static double Vertex(double a, double fa, double b, double fb, double c, double fc)
    {
        double p = (b - a) * (fb - fc), q = (b - c) * (fb - fa);
        return b - ((b - a) * p - (b - c) * q) / (2 * (p - q));
    }
}
