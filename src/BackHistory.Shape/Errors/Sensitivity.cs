using System.Buffers;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Errors;

/// <summary>
/// Standard errors by the delta method: a measure's first derivatives by the coefficients of the smoothed curve, and the posterior
/// covariance of those coefficients. The frame (midline mark, level) and λ are taken as known. Lives as long as the measuring of one
/// tracing.
/// </summary>
internal sealed class Sensitivity(PenalisedFit? fit, double noise) : IDisposable
{
    private readonly List<double[]> rented = [];

    /// <summary>Derivatives of nothing yet; null for an exact tracing, whose measures have no error.</summary>
    internal Gradient? Empty()
    {
        if (fit is null)
            return null;
        var count = fit.Basis.Count;
        var store = ArrayPool<double>.Shared.Rent(2 * count);
        rented.Add(store);
        Array.Clear(store, 0, 2 * count);
        return new Gradient(this, fit.Basis, store);
    }

    /// <summary>√variance of the measure with these derivatives; they are used up.</summary>
    internal double StandardError(Gradient? gradient) =>
        gradient is null ? 0 : noise * Math.Sqrt(fit!.Variance(gradient.OnX, gradient.OnY));

    public void Dispose()
    {
        foreach (var store in rented)
            ArrayPool<double>.Shared.Return(store);
        rented.Clear();
    }
}
