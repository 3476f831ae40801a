namespace BackHistory.Shape.Smoothing;

/// <summary>
/// Four-point Gauss–Legendre rule on [−1, 1] (Abramowitz &amp; Stegun, table 25.4): exact for polynomials of degree seven.
/// </summary>
internal static class Gauss
{
    internal static ReadOnlySpan<double> Nodes => [-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526];
    internal static ReadOnlySpan<double> Weights => [0.3478548451374538, 0.6521451548625461, 0.6521451548625461, 0.3478548451374538];
}
