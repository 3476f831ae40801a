using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Errors;

/// <summary>
/// Derivatives of one number by the coefficients of a curve, built up from what moving the curve at a parameter does to it.
/// </summary>
internal sealed class Gradient(Sensitivity owner, CubicBasis basis, double[] store)
{
    internal Span<double> OnX => store.AsSpan(0, basis.Count);
    internal Span<double> OnY => store.AsSpan(basis.Count, basis.Count);

    /// <summary>The number changes by <paramref name="weight"/> · (shift of the curve at the parameter).</summary>
    internal void AddPoint(double at, Point weight)
    {
        var (i, within) = basis.Locate(at);
        Span<double> four = stackalloc double[4];
        CubicBasis.Values(within, four);
        Add(i, four, weight);
    }

    /// <summary>The number changes by <paramref name="weight"/> · (change of the curve's first derivative at the parameter).</summary>
    internal void AddVelocity(double at, Point weight)
    {
        var (i, within) = basis.Locate(at);
        Span<double> four = stackalloc double[4];
        basis.Slopes(within, four);
        Add(i, four, weight);
    }

    private void Add(int i, ReadOnlySpan<double> four, Point weight)
    {
        Span<double> onX = store.AsSpan(i, 4),
            onY = store.AsSpan(basis.Count + i, 4);
        for (var p = 0; p < 4; p++)
        {
            onX[p] += four[p] * weight.X;
            onY[p] += four[p] * weight.Y;
        }
    }

    /// <summary>a·first + b·second; null stands for a constant.</summary>
    internal static Gradient? Combine(double a, Gradient? first, double b, Gradient? second)
    {
        if ((first ?? second) is not { } known)
            return null;
        var sum = known.Owner.Empty()!;
        first?.AddTo(sum, a);
        second?.AddTo(sum, b);
        return sum;
    }

    private Sensitivity Owner => owner;

    private void AddTo(Gradient sum, double factor)
    {
        var target = sum.OnX;
        for (var i = 0; i < target.Length; i++)
            target[i] += factor * OnX[i];
        target = sum.OnY;
        for (var i = 0; i < target.Length; i++)
            target[i] += factor * OnY[i];
    }
}
