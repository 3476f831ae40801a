using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Measures;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Smoothing;
using BackHistory.Shape.Tests;
using BackHistory.Shape.Tests.Reference;

namespace BackHistory.Benchmarks.Shape;

/// <summary>
/// Root mean square error over 500 random backs with known truth and 1 mm noise, one in five with a crease for a ridge: ours against
/// Mallows' Cp. Ratios below one are ours.
/// </summary>
internal static class SmootherBenchmark
{
    private static readonly (string Key, string Unit)[] Keys =
    [
        ("width@30", "mm"),
        ("width@100", "mm"),
        ("slope-left", "deg"),
        ("slope-right", "deg"),
        ("fill-left", "cm2"),
        ("skew-shape", "mm"),
    ];

    internal static IEnumerable<Figure> Run()
    {
        var random = new Random(500);
        var errors = Keys.Select(k => k.Key)
            .Prepend("M")
            .ToDictionary(k => k, _ => new List<(double Ours, double Cp)>(), StringComparer.Ordinal);
        for (var k = 0; k < 500; k++)
        {
            var back = new RandomBack(random, sharpestRidge: k % 5 == 0 ? 0 : 8);
            var truth = TracingAnalysis.Analyse(back.Exact()).Measures;
            Registered? traced = null;
            while (traced is null)
                traced = TracingRegistration.Register(back.Trace(random, 1.4 + 3 * random.NextDouble(), 1)).Registered;
            var (ours, cp) = (Measure(traced, Smoother.Smooth(traced)), Measure(traced, MallowsSmoother.Smooth(traced)));
            errors["M"].Add((ours.M, cp.M));
            foreach (var (key, _) in Keys)
                if (Value(truth, key) is { } t && Value(ours.Measures, key) is { } a && Value(cp.Measures, key) is { } b)
                    errors[key].Add((a - t, b - t));
        }
        foreach (var (key, unit) in Keys.Prepend(("M", "mm")))
            yield return new Figure(
                $"smoother/rms-{key}",
                Rms(errors[key].Select(e => e.Ours)),
                "Mallows' Cp",
                Rms(errors[key].Select(e => e.Cp)),
                unit
            );
    }

    private static (double M, List<Measure> Measures) Measure(Registered traced, Smoothed smoothed) =>
        (smoothed.Curve.At(Midline.Find(smoothed.Curve)!.Value).Y, Catalogue.Measure(Contour.From(traced, smoothed)!));

    private static double? Value(IEnumerable<Measure> measures, string key) => measures.Single(m => m.Key == key).Value;

    private static double Rms(IEnumerable<double> errors) => Math.Sqrt(errors.Average(e => e * e));
}
