using System.Globalization;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Measures;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Smoothing;
using BackHistory.Shape.Tests.Reference;

namespace BackHistory.Shape.Tests;

/// <summary>Five hundred random tracings with known truth, smoothed by Mallows' Cp and by ours; the table is printed with the
/// test.</summary>
public sealed class SmootherAccuracyTests(ITestOutputHelper output)
{
    private static readonly string[] Keys = ["M", "width@30", "width@100", "slope-left", "slope-right"];

    private sealed record Errors(string Ridge, Dictionary<string, double> Cp, Dictionary<string, double> Ours);

    [Fact]
    public void Ours_loses_less_than_Cp_at_a_ridge_and_at_a_corner_and_follows_the_noise_no_more()
    {
        var random = new Random(500);
        var all = Enumerable.Range(0, 500).Select(k => One(random, k % 5 == 0)).ToArray();
        foreach (var ridge in (string[])["corner", "sharp", "broad", "all"])
            Print(ridge, all.Where(e => ridge == "all" || e.Ridge == ridge).ToArray());

        foreach (var ridge in (string[])["corner", "sharp", "broad"])
        foreach (var key in (string[])["M", "width@30", "width@100"])
        {
            var some = all.Where(e => e.Ridge == ridge).ToArray();
            Assert.True(Rms(some, e => e.Ours, key) < 0.95 * Rms(some, e => e.Cp, key), $"{key} of a {ridge} ridge");
            Assert.True(Math.Abs(Bias(some, e => e.Ours, key)) < Math.Abs(Bias(some, e => e.Cp, key)), $"bias of {key} of a {ridge} ridge");
        }
        // On the flanks both are as good: five hundred backs tell two per cent apart.
        Assert.InRange(Both(e => e.Ours) / Both(e => e.Cp), 0.9, 1.02);
        double Both(Func<Errors, Dictionary<string, double>> by) => Rms(all, by, "slope-left") + Rms(all, by, "slope-right");
        foreach (var key in (string[])["M", "width@30", "width@100"])
            Assert.True(Rms(all, e => e.Ours, key) < 0.7 * Rms(all, e => e.Cp, key), key);
    }

    private static Errors One(Random random, bool corner)
    {
        var back = new RandomBack(random, sharpestRidge: corner ? 0 : 8);
        var truth = TracingAnalysis.Analyse(back.Exact());
        Registered? traced = null;
        // Now and then dense points tie a loop that is refused: such a back is traced again.
        while (traced is null)
            traced = TracingRegistration.Register(back.Trace(random, 1.4 + 3 * random.NextDouble(), 1)).Registered;
        return new Errors(
            corner ? "corner"
                : back.RidgeRadius < 25 ? "sharp"
                : "broad",
            Measure(MallowsSmoother.Smooth(traced)),
            Measure(Smoother.Smooth(traced))
        );

        Dictionary<string, double> Measure(Smoothed smoothed)
        {
            var measures = Catalogue.Measure(Contour.From(traced, smoothed)!);
            var errors = new Dictionary<string, double>(StringComparer.Ordinal)
            {
                ["M"] = smoothed.Curve.At(Midline.Find(smoothed.Curve)!.Value).Y,
            };
            foreach (var key in Keys.Skip(1))
                if (measures.Single(m => m.Key == key).Value is { } value && truth.Measures.Single(m => m.Key == key).Value is { } wanted)
                    errors[key] = value - wanted;
            return errors;
        }
    }

    private static double Bias(Errors[] of, Func<Errors, Dictionary<string, double>> by, string key) =>
        of.Select(by).Where(e => e.ContainsKey(key)).Average(e => e[key]);

    private static double Rms(Errors[] of, Func<Errors, Dictionary<string, double>> by, string key) =>
        Math.Sqrt(of.Select(by).Where(e => e.ContainsKey(key)).Average(e => e[key] * e[key]));

    private void Print(string ridge, Errors[] some)
    {
        foreach (var key in Keys)
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{ridge, -7} n {some.Length, 3}  {key, -12} bias Cp {Bias(some, e => e.Cp, key), 7:0.000} ours "
                        + $"{Bias(some, e => e.Ours, key), 7:0.000}   rms Cp {Rms(some, e => e.Cp, key), 6:0.000} ours "
                        + $"{Rms(some, e => e.Ours, key), 6:0.000}"
                )
            );
    }
}
