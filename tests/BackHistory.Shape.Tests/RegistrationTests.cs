using System.Collections.Immutable;
using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>The frame of a tracing, and what is refused before any curve is drawn.</summary>
public sealed class RegistrationTests
{
    private static readonly Tracing Back = new RandomBack(new Random(4)).Exact();

    private static void MeasuresTheSame(Tracing changed, double tolerance = 1e-6, Tracing? original = null)
    {
        var (before, after) = (TracingAnalysis.Analyse(original ?? Back), TracingAnalysis.Analyse(changed));
        Assert.Null(after.Refused);
        Assert.Equal(before.Measures.Select(m => m.Key), after.Measures.Select(m => m.Key), StringComparer.Ordinal);
        foreach (var (a, b) in before.Measures.Zip(after.Measures))
        {
            Assert.Equal(a.Value is null, b.Value is null);
            if (a.Value is { } value)
                Assert.True(
                    Math.Abs(value - b.Value!.Value) <= tolerance * Math.Max(1, Math.Abs(value)),
                    $"{a.Key}: {value} became {b.Value}"
                );
        }
    }

    private static Func<Point, Point> Turn(double degrees, Point shift)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return p => new Point(cos * p.X - sin * p.Y, sin * p.X + cos * p.Y) + shift;
    }

    /// <summary>Why it is refused; by the check at entry as by the analysis.</summary>
    private static string? Code(Tracing tracing)
    {
        var refused = TracingAnalysis.Analyse(tracing).Refused;
        Assert.Equal(refused, new TracingFit(tracing).Refused);
        return refused?.Code;
    }

    [Fact]
    public void A_tracing_rotated_by_seven_degrees_measures_the_same() =>
        MeasuresTheSame((Back with { Level = new(new(-100, 0), new(100, 0)) }).With(Turn(7, new(412, -90))));

    [Fact]
    public void A_noisy_tracing_rotated_by_thirty_degrees_measures_the_same()
    {
        var noisy = new RandomBack(new Random(8)).Trace(new Random(9), 2.5, 1) with
        {
            Level = new(new(-100, 0), new(100, 0)),
            Midline = default(Point),
        };
        MeasuresTheSame(noisy.With(Turn(30, new(-50, 1000))), 1e-5, noisy);
    }

    [Theory]
    [InlineData("in", 1 / 25.4)]
    [InlineData("cm", 0.1)]
    public void A_tracing_in_another_unit_measures_the_same(string unit, double scale) =>
        MeasuresTheSame(Back.With(p => scale * p) with { Unit = unit });

    [Fact]
    public void A_tracing_in_picture_coordinates_measures_the_same() =>
        MeasuresTheSame(
            (Back with { Midline = default(Point), Level = new(new(-100, 0), new(90, 0)) }).With(p => new(p.X, -p.Y)) with
            {
                YAxisDown = true,
            }
        );

    [Fact]
    public void A_tilted_picture_is_levelled_by_its_own_level_line() =>
        MeasuresTheSame(
            (Back with { Level = new(new(-100, 0), new(100, 0)) }).With(Turn(12, new(5, 5))).With(p => new(p.X, -p.Y)) with
            {
                YAxisDown = true,
            }
        );

    [Fact]
    public void A_tracing_drawn_from_right_to_left_measures_the_same() =>
        MeasuresTheSame(Back with { Points = [.. Back.Points.Reverse()] }, 1e-7);

    [Fact]
    public void A_mirrored_back_swaps_left_and_right()
    {
        var (before, after) = (TracingAnalysis.Analyse(Back), TracingAnalysis.Analyse(Back.With(p => new(-p.X, p.Y))));
        Assert.Equal(before.Value("slope-left"), after.Value("slope-right"), 1e-6);
        Assert.Equal(before.Value("half-area-left@100"), after.Value("half-area-right@100"), 1e-6);
        Assert.Equal(before.Value("skew-slope"), -after.Value("skew-slope"), 1e-6);
        Assert.Equal(before.Value("skew-shape"), after.Value("skew-shape"), 1e-6);
        Assert.Equal(before.Value("width@100"), after.Value("width@100"), 1e-6);
    }

    [Fact]
    public void In_millimetres_and_upright_the_tracing_is_the_same_tracing()
    {
        var taken = Back.With(p => new(p.X / 25.4, -p.Y / 25.4)) with
        {
            Unit = "in",
            YAxisDown = true,
            Marks = new Dictionary<string, Point>(StringComparer.Ordinal) { ["scar"] = new(1, 2) },
        };
        var stored = taken.InMillimetres();
        Assert.Equal(("mm", false), (stored.Unit, stored.YAxisDown));
        Assert.Equal(new Point(25.4, -50.8), stored.Marks["scar"]);
        Assert.Same(stored, stored.InMillimetres());
        MeasuresTheSame(stored, 1e-9, taken);
        Assert.Same("ell", (taken with { Unit = "ell" }).InMillimetres().Unit);
    }

    [Fact]
    public void A_level_line_drawn_backwards_is_taken_literally_and_flagged()
    {
        var answer = TracingAnalysis.Analyse(Back with { Level = new(new(100, 0), new(-100, 0)) });
        Assert.Null(answer.Refused);
        var flag = Assert.Single(answer.Flags, f => f.Flag == "level-tilt");
        Assert.Equal(200, flag.Length, 1e-9);
        Assert.Equal("not covered", answer.Why("width@30"));
    }

    [Theory]
    [InlineData(15.1, true)]
    [InlineData(-15.1, true)]
    [InlineData(14.9, false)]
    public void A_level_line_more_than_fifteen_degrees_off_is_flagged(double degrees, bool flagged)
    {
        var answer = TracingAnalysis.Analyse((Back with { Level = new(new(-100, 0), new(100, 0)) }).With(Turn(degrees, default)));
        Assert.Equal(flagged, answer.Flags.Any(f => f.Flag == "level-tilt"));
    }

    [Theory]
    [InlineData(119.9, "implausible-size")]
    [InlineData(120.1, null)]
    [InlineData(899.9, null)]
    [InlineData(900.1, "implausible-size")]
    public void A_section_is_between_120_and_900_mm_across(double across, string? code) =>
        Assert.Equal(code, Code(Shapes.Section(k => new Point(across / 2 * k, -50 * k * k))));

    [Theory]
    [InlineData(299.9, "implausible-size")]
    [InlineData(300.1, null)]
    [InlineData(2499.9, null)]
    [InlineData(2500.1, "implausible-size")]
    public void A_topline_is_between_300_and_2500_mm_long(double length, string? code) =>
        Assert.Equal(
            code,
            Code(
                new Tracing
                {
                    Kind = TracingKind.Topline,
                    Points = [.. Enumerable.Range(0, 201).Select(k => new Point(length * k / 200, -10))],
                    Marks = new Dictionary<string, Point>(StringComparer.Ordinal)
                    {
                        ["behind-shoulder"] = new(length * 0.2, 0),
                        ["last-rib"] = new(length * 0.8, 0),
                    },
                }
            )
        );

    [Fact]
    public void The_size_is_that_of_the_levelled_tracing()
    {
        // 900 mm along the diagonal of the sheet, 636 across it.
        var steep = Shapes.Section(k => new Point(458 * k, -20 * k * k)) with
        {
            Level = new(new(-100, 0), new(100, 0)),
            Midline = default(Point),
        };
        Assert.Equal("implausible-size", Code(steep.With(Turn(45, default))));
        Assert.Null(Code(steep.With(Turn(45, default)) with { Level = null }));
    }

    [Fact]
    public void A_sheet_higher_than_any_horse_is_refused() =>
        Assert.Equal("implausible-size", Code(Shapes.Section(k => new Point(200 * k, -1e300 * k * k))));

    [Theory]
    [InlineData(14.9, null)]
    [InlineData(15.1, "off-midline")]
    public void A_mark_may_lie_fifteen_millimetres_off_the_line(double off, string? code)
    {
        var answer = TracingAnalysis.Analyse(Shapes.Section(k => new Point(200 * k, -1e-9)) with { Midline = new Point(0, off) });
        Assert.Equal(code, answer.Refused?.Code);
        if (code is null)
            Assert.Equal(off, Assert.Single(answer.Flags, f => f.Flag == "midline-off").Length, 1e-6);
    }

    [Theory]
    [InlineData(2.9, false)]
    [InlineData(3.1, true)]
    public void A_mark_three_millimetres_off_is_flagged(double off, bool flagged) =>
        Assert.Equal(
            flagged,
            TracingAnalysis
                .Analyse(Shapes.Section(k => new Point(200 * k, 0)) with { Midline = new Point(0, off) })
                .Flags.Any(f => f.Flag == "midline-off")
        );

    [Fact]
    public void M_lies_on_the_curve_above_or_below_the_mark() => MeasuresTheSame(Back with { Midline = new Point(0, 9) }, 1e-9);

    [Theory]
    [InlineData(11, 40, "too-few-points")]
    [InlineData(40, 11, "too-few-points")]
    [InlineData(12, 40, null)]
    [InlineData(40, 12, null)]
    public void Twelve_points_are_needed_on_each_side(int left, int right, string? code)
    {
        // A point on the midline belongs to neither side, nor does one a hair off it.
        IEnumerable<Point> points =
        [
            .. Enumerable.Range(0, left).Select(k => new Point(-200 + 190.0 * k / (left - 1), -5)),
            new(-0.09, 0),
            new(0.09, 0.2),
            .. Enumerable.Range(0, right).Select(k => new Point(10 + 190.0 * k / (right - 1), -5)),
        ];
        Assert.Equal(code, Code(Shapes.Section(points)));
    }

    [Fact]
    public void Repeated_points_do_not_count_as_points()
    {
        var few = Enumerable.Range(-8, 17).Select(k => new Point(25 * k, -k * k)).ToList();
        Assert.Equal(
            "too-few-points",
            Code(Shapes.Section(few.SelectMany(p => new[] { p, p + new Point(0.05, 0.05), p + new Point(0.09, 0) })))
        );
        MeasuresTheSame(Back with { Points = [.. Back.Points.SelectMany(p => new[] { p, p })] }, 1e-12);
    }

    [Theory]
    [InlineData(12, null, 11, "too-few-points")]
    [InlineData(40, "shoulder", 9, "too-few-points")]
    [InlineData(40, "shoulder", 14, null)]
    public void A_topline_needs_twelve_points_between_its_outermost_marks(int points, string? first, int between, string? code)
    {
        var marks = new Dictionary<string, Point>(StringComparer.Ordinal)
        {
            ["last-rib"] = new(10.5 + 10 * between, 0),
            ["behind-shoulder"] = new(15, 0),
        };
        if (first is not null)
            marks[first] = new Point(9.5, 0);
        var tracing = new Tracing
        {
            Kind = TracingKind.Topline,
            Points = [.. Enumerable.Range(0, points).Select(k => new Point(10 * k, 0)), new(600, 0)],
            Marks = marks,
        };
        if (first is null)
            tracing = tracing with { Marks = ImmutableDictionary<string, Point>.Empty, Points = [.. tracing.Points.Skip(2)] };
        Assert.Equal(code, Code(tracing));
    }

    [Theory]
    [InlineData("behind-shoulder")]
    [InlineData("last-rib")]
    public void A_topline_without_a_station_mark_is_refused(string missing)
    {
        var refusal = TracingAnalysis
            .Analyse(Shapes.Topline(u => -u / 50, marks: [.. Shapes.Stations.Where(m => m.Name != missing)]))
            .Refused!;
        Assert.Equal("no-station-mark", refusal.Code);
        Assert.Contains(missing, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Noise_that_is_negative_or_no_number_is_refused()
    {
        Assert.Equal("unreadable", Code(Back with { Noise = -1 }));
        Assert.Equal("not-finite", Code(Back with { Noise = double.NaN }));
        Assert.Equal("not-finite", Code(Back with { Noise = double.PositiveInfinity }));
        Assert.Equal("unknown-unit", Code(Back with { Unit = "m" }));
        Assert.Equal("too-few-points", Code(Back with { Points = [] }));
    }

    [Fact]
    public void More_points_than_any_line_has_are_refused() =>
        Assert.Equal(
            "unreadable",
            Code(Shapes.Section(Enumerable.Range(0, 30_000).Select(k => new Point(-200 + 400.0 * k / 30_000, k % 2 * 0.2))))
        );

    [Fact]
    public void A_million_points_on_a_short_line_are_mostly_repeats_and_measured() =>
        MeasuresTheSame(Shapes.Circle(points: 1_000_001), 1e-4, Shapes.Circle(points: 6_001));

    /// <summary>A sheet may lie a kilometre from the origin, so that a drawing's own does not matter; nothing lies farther.</summary>
    [Fact]
    public void Every_place_of_a_tracing_lies_on_its_sheet()
    {
        Tracing At(double far) => Back.With(p => p + new Point(far, 0)) with { Midline = new(far, 0) };
        MeasuresTheSame(At(999_000), 1e-4);
        Assert.Equal("implausible-size", Code(At(1_001_000)));
        Assert.Equal("implausible-size", Code(Back with { Level = new(new(-1e308, 0), new(1e308, 0)) }));
        Assert.Equal("implausible-size", Code(Back with { Midline = new(1e308, 0) }));
        Assert.Equal("implausible-size", Code(Back with { Unit = "in", Points = [.. Back.Points, new(1e306, 0)] }));
    }

    [Theory]
    [InlineData(4900, null)]
    [InlineData(5400, "implausible-size")]
    [InlineData(1e155, "implausible-size")]
    [InlineData(-1.7e308, "implausible-size")]
    public void A_mark_lies_on_the_horse(double away, string? code)
    {
        Assert.Equal(code, Code(Back with { Marks = Marked("scar-left", new(-away, 10)) }));
        Assert.Equal(code, Code(Back with { Marks = Marked("scar-left", new(0, away)) }));
        var topline = Shapes.Topline(u => -u / 50, marks: Shapes.Stations);
        Assert.Equal(code, Code(topline with { Marks = topline.Marks.ToImmutableDictionary().Add("scar", new(500 + away, 0)) }));
    }

    [Fact]
    public void Noise_in_which_the_widest_back_would_drown_is_refused()
    {
        Assert.Null(Code(Back with { Noise = 20 }));
        Assert.Equal("implausible-size", Code(Back with { Noise = 1001 }));
        Assert.Equal("implausible-size", Code(Back with { Noise = 1e308 }));
    }

    private static ImmutableDictionary<string, Point> Marked(string name, Point at) =>
        ImmutableDictionary<string, Point>.Empty.Add(name, at);
}
