using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Wire;
using CsCheck;

namespace BackHistory.Shape.Tests;

/// <summary>What holds for any tracing, tried on random ones.</summary>
public sealed class PropertyTests
{
    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private static readonly Gen<(int Seed, double Spacing, double Noise)> Traced = Gen.Select(
        Gen.Int[0, 100_000],
        Gen.Double[1.5, 8],
        OneOf(0.0, 0.3, 1.0)
    );

    private static Tracing Make((int Seed, double Spacing, double Noise) g) =>
        new RandomBack(new Random(g.Seed)).Trace(new Random(g.Seed), g.Spacing, g.Noise) with
        {
            Midline = default(Point),
            Level = new(new(-100, 0), new(100, 0)),
        };

    /// <summary>Dropping repeats begins at the first point: only neighbours closer than 0.1 mm notice which that is.</summary>
    private static bool HasRepeats(Tracing tracing) =>
        tracing.Points.Zip(tracing.Points.Skip(1)).Any(p => (p.First - p.Second).Length < 0.1);

    private static void Same(TracingAnswer a, TracingAnswer b, double tolerance)
    {
        Assert.Equal(a.Refused?.Code, b.Refused?.Code);
        foreach (var (x, y) in a.Measures.Zip(b.Measures))
        {
            Assert.Equal((x.Key, x.Why), (y.Key, y.Why));
            if (x.Value is { } value && x.Key != "ridge-radius")
                Assert.True(
                    Math.Abs(value - y.Value!.Value) <= tolerance * Math.Max(1, Math.Abs(value)),
                    $"{x.Key}: {value} and {y.Value}"
                );
        }
    }

    [Fact]
    public void Rigid_motion_and_units_change_nothing() =>
        Gen.Select(Traced, Gen.Double[-40, 40], Gen.Double[-3000, 3000], Gen.Double[-3000, 3000], OneOf("mm", "cm", "in"), Gen.Bool)
            .Sample(
                (traced, degrees, dx, dy, unit, down) =>
                {
                    var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
                    var scale = 1 / Units.MillimetresPer(unit)!.Value;
                    var original = Make(traced);
                    var moved = original.With(p => new Point(
                        scale * (cos * p.X - sin * p.Y + dx),
                        (down ? -scale : scale) * (sin * p.X + cos * p.Y + dy)
                    )) with
                    {
                        Unit = unit,
                        YAxisDown = down,
                    };
                    Same(TracingAnalysis.Analyse(original), TracingAnalysis.Analyse(moved), 2e-5);
                },
                iter: 300
            );

    [Fact]
    public void The_direction_in_which_it_was_drawn_changes_nothing() =>
        Traced.Sample(
            traced =>
            {
                var original = Make(traced);
                if (HasRepeats(original))
                    return;
                Same(
                    TracingAnalysis.Analyse(original),
                    TracingAnalysis.Analyse(original with { Points = [.. original.Points.Reverse()] }),
                    1e-6
                );
            },
            iter: 200
        );

    [Fact]
    public void Denser_points_on_the_same_curve_change_an_exact_tracing_by_less_than_half_a_millimetre_or_per_cent() =>
        Gen.Int[0, 100_000]
            .Sample(
                seed =>
                {
                    var back = new RandomBack(new Random(seed), 20, 100);
                    var (sparse, dense) = (
                        TracingAnalysis.Analyse(back.Trace(new Random(seed), 5, 0)),
                        TracingAnalysis.Analyse(back.Exact())
                    );
                    foreach (var (a, b) in sparse.Measures.Zip(dense.Measures))
                        if (a.Value is { } x && b.Value is { } y && a.Key != "ridge-radius")
                            Assert.InRange(Math.Abs(x - y), 0, Math.Max(0.5, 0.005 * Math.Abs(y)));
                },
                iter: 100
            );

    [Fact]
    public void Mirroring_swaps_the_sides() =>
        Traced.Sample(
            traced =>
            {
                var original = Make(traced);
                var mirrored = original.With(p => new Point(-p.X, p.Y)) with { Level = original.Level };
                var (a, b) = (TracingAnalysis.Analyse(original), TracingAnalysis.Analyse(mirrored));
                if (a.Refused is not null || HasRepeats(original))
                    return;
                foreach (var measure in a.Measures.Where(m => m.Value is not null && m.Key.Contains("-left", StringComparison.Ordinal)))
                    Assert.Equal(
                        measure.Value!.Value,
                        b.Value(measure.Key.Replace("-left", "-right", StringComparison.Ordinal)),
                        1e-4 * Math.Max(1, Math.Abs(measure.Value.Value))
                    );
            },
            iter: 100
        );

    [Fact]
    public void A_wider_back_has_wider_measures() =>
        Gen.Select(Gen.Int[0, 100_000], Gen.Double[1.01, 1.3])
            .Sample(
                (seed, factor) =>
                {
                    var back = new RandomBack(new Random(seed)).Exact();
                    var (a, b) = (TracingAnalysis.Analyse(back), TracingAnalysis.Analyse(back.With(p => new(factor * p.X, p.Y))));
                    foreach (var key in (string[])["width@30", "width@60", "half-area-left@100", "half-area-right@100"])
                        if (a.Measures.Single(m => m.Key == key).Value is { } narrow)
                            Assert.Equal(factor, b.Value(key) / narrow, 1e-3);
                    Assert.True(b.Value("opening") > a.Value("opening"));
                },
                iter: 60
            );

    [Fact]
    public void No_points_whatever_make_it_throw_or_answer_with_what_is_no_number()
    {
        var coordinate = Gen.OneOf(
            Gen.Double[-400, 400],
            Gen.Double[-1e-3, 1e-3],
            OneOf(0.0, -0.0, 1e308, -1e308, double.NaN, double.PositiveInfinity, double.Epsilon),
            Gen.Double
        );
        var point = Gen.Select(coordinate, coordinate, (x, y) => new Point(x, y));
        var plausible = Gen.Select(Gen.Double[-300, 300], Gen.Double[-200, 50], (x, y) => new Point(x, y));
        var points = Gen.OneOf(
            point.Array[0, 60],
            plausible.Array[20, 120],
            plausible.Array[20, 120].Select(a => a.OrderBy(p => p.X).ToArray())
        );
        var places = Gen.OneOf(plausible, point).Array[2, 4];
        Gen.Select(points, Gen.Bool, OneOf(0.0, 0.01, 1.0, 50.0, 1e9), OneOf("mm", "cm", "in", "ell"), places)
            .Sample(
                (some, topline, noise, unit, marks) =>
                {
                    var answer = TracingAnalysis.Analyse(
                        new Tracing
                        {
                            Kind = topline ? TracingKind.Topline : TracingKind.CrossSection,
                            Points = [.. some],
                            Noise = noise,
                            Unit = unit,
                            Midline = topline || marks[0].X > 0 ? null : marks[1],
                            Marks = new Dictionary<string, Point>(StringComparer.Ordinal)
                            {
                                ["behind-shoulder"] = marks[0],
                                ["last-rib"] = marks[1],
                            },
                        }
                    );
                    Assert.True(answer.Refused is not null || answer.Measures.Count > 0);
                    Assert.All(
                        answer.Measures,
                        m =>
                            Assert.True(
                                (m.Value is { } v && double.IsFinite(v) && m.Sd is >= 0 && double.IsFinite(m.Sd.Value))
                                    || m.Why is not null,
                                m.ToString()
                            )
                    );
                    Assert.All(
                        answer.Flags,
                        f => Assert.True(double.IsFinite(f.Length + f.From.X + f.From.Y + f.To.X + f.To.Y), f.ToString())
                    );
                },
                iter: 4000
            );
    }

    [Fact]
    public void No_line_whatever_makes_the_verb_throw_or_answer_with_what_is_no_JSON()
    {
        var good = Encoding.UTF8.GetString(TracingJson.Write(Shapes.Circle(points: 41))).Insert(1, "\"id\":\"a\",");
        var pieces = OneOf(
            "null",
            "[]",
            "{",
            "}",
            "1e999",
            "\"",
            ":",
            ",",
            "\\ud800",
            "-",
            "NaN",
            "[[0,0]]",
            "\"mm\"",
            "points",
            "\u0000",
            "💡"
        );
        Gen.Select(Gen.Int[0, good.Length], Gen.Int[0, 40], pieces.Array[0, 3])
            .Sample(
                (at, cut, inserts) =>
                {
                    var broken = good.Remove(at, Math.Min(cut, good.Length - at)).Insert(at, string.Concat(inserts));
                    using var answer = JsonDocument.Parse(MeasureLine.Answer(broken, 3).Json);
                    Assert.True(
                        answer.RootElement.TryGetProperty("measures", out _)
                            || answer.RootElement.GetProperty("refused").GetProperty("code").GetString()!.Length > 0
                    );
                },
                iter: 5000
            );
    }

    [Fact]
    public void Numbers_survive_the_wire_to_the_last_bit() =>
        Gen
            .Double.Where(double.IsFinite)
            .Array[1, 5]
            .Sample(
                numbers =>
                {
                    var tracing = Shapes.Section(numbers.Select(n => new Point(n, -n)), 0.1);
                    var json = Encoding.UTF8.GetString(TracingJson.Write(tracing));
                    Assert.True(
                        json.Contains(numbers[0].ToString("R", CultureInfo.InvariantCulture), StringComparison.Ordinal)
                            || json.Contains('E', StringComparison.Ordinal)
                    );
                    Assert.Equal(tracing.Points.AsEnumerable(), TracingJson.Read(TracingJson.Write(tracing)).Tracing!.Points);
                },
                iter: 1000
            );
}
