using BackHistory.Shape.Registration;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Quality;

/// <summary>`second-pass`: the pen went back and drew a stretch again beside the first, without crossing it.</summary>
internal static class SecondPass
{
    private const double BackwardsMillimetres = 15;
    private const double ApartAlongMillimetres = 40;
    private const double CloseMillimetres = 6;

    internal static void Judge(Registered tracing, List<QualityFlag> flags)
    {
        if (!GoesBack(tracing.X))
            return;
        var arc = Parameters.OfChord(tracing.X, tracing.Y);
        var close = Math.Max(CloseMillimetres, 4 * tracing.Noise);
        int first = -1,
            last = -1;
        for (var i = 0; i < tracing.Count && first < 0; i++)
        for (var j = tracing.Count - 1; j > i && arc[j] - arc[i] > ApartAlongMillimetres; j--)
            if ((tracing[j] - tracing[i]).Length < close)
            {
                (first, last) = (i, j);
                break;
            }
        if (first < 0)
            return;
        var side =
            tracing.Kind == TracingKind.Topline ? null
            : tracing.X[first] < 0 ? "left"
            : "right";
        flags.Add(new("second-pass", side, tracing[first], tracing[last], arc[last] - arc[first]));
    }

    private static bool GoesBack(double[] x)
    {
        var farthest = x[0];
        foreach (var v in x)
        {
            farthest = Math.Max(farthest, v);
            if (farthest - v > BackwardsMillimetres)
                return true;
        }
        return false;
    }
}
