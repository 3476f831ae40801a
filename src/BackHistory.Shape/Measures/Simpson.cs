namespace BackHistory.Shape.Measures;

/// <summary>Means over equally spaced samples by Simpson's rule.</summary>
internal static class Simpson
{
    /// <summary>Weight of sample <paramref name="k"/> of an odd number of samples; the weights sum to one.</summary>
    internal static double Weight(int k, int count) =>
        (
            k == 0 || k == count - 1 ? 1
            : k % 2 == 1 ? 4
            : 2
        ) / (3.0 * (count - 1));

    internal static void Fill(Span<double> weights)
    {
        for (var k = 0; k < weights.Length; k++)
            weights[k] = Weight(k, weights.Length);
    }
}
