using BackHistory.Shape.Measures;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Quality;

/// <summary>
/// `halves-apart`: the two halves do not meet, as when the sheet slipped between them. Each half is carried on to the midline by a parabola
/// through its own points near it; the flag is the step between the two heights.
/// </summary>
internal static class HalvesApart
{
    private const double NearMillimetres = 35;
    private const double StepMillimetres = 5;
    private const double StandardErrors = 5;

    internal static void Judge(Registered tracing, List<QualityFlag> flags)
    {
        if (Height(tracing, -1) is not { } left || Height(tracing, 1) is not { } right)
            return;
        var step = Math.Abs(left.Value - right.Value);
        var error = tracing.Noise * Math.Sqrt(left.Leverage + right.Leverage);
        if (step <= Math.Max(StepMillimetres, StandardErrors * error))
            return;
        flags.Add(new("halves-apart", null, new Point(0, left.Value), new Point(0, right.Value), step));
    }

    /// <summary>
    /// Height at x = 0 of the parabola through one half, with its variance per unit of noise; null with too few points to tell.
    /// </summary>
    private static (double Value, double Leverage)? Height(Registered tracing, double outwards)
    {
        var normal = default(Symmetric3);
        double a = 0,
            b = 0,
            c = 0;
        var count = 0;
        for (var i = 0; i < tracing.Count; i++)
        {
            var x = outwards * tracing.X[i] / NearMillimetres;
            if (x is <= 0 or > 1)
                continue;
            normal.Add(1, 1, x, x * x);
            (a, b, c) = (a + tracing.Y[i], b + x * tracing.Y[i], c + x * x * tracing.Y[i]);
            count++;
        }
        if (count < 5)
            return null;
        // A slope turns noise across the line into noise of height.
        var (height, slope, _) = normal.Solve(a, b, c);
        var steep = slope / NearMillimetres;
        return (height, normal.Solve(1, 0, 0).A * (1 + steep * steep));
    }
}
