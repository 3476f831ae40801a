using System.Globalization;
using System.Xml.Linq;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;

namespace BackHistory.Reports.Tests.Charts;

public class BackCurveChartTests
{
    static readonly SectionChartInput Sections = new()
    {
        Finding = "Hollower on the right.",
        Subject = "Juniper",
        Curves = [SampleBacks.Then, SampleBacks.Now],
    };

    static SvgPicture Drawn(SectionChartInput input) => new(SectionChart.Draw(input, ChartTheme.Light, ChartSize.Page));

    static List<(double X, double Y)> Path(XElement path) =>
        [
            .. ((string)path.Attribute("d")!)
                .Split('M', 'L')
                .Where(p => p.Length > 0)
                .Select(p => p.Trim().TrimEnd('Z').Split(' '))
                .Select(p => (double.Parse(p[0], CultureInfo.InvariantCulture), double.Parse(p[1], CultureInfo.InvariantCulture))),
        ];

    static IEnumerable<XElement> Curves(SvgPicture picture, string colour) => picture.Stroked(colour).Where(e => Path(e).Count > 20);

    [Fact]
    public void What_is_round_on_the_horse_is_round_in_the_picture()
    {
        var halfCircle = new SectionCurve(
            "now",
            [
                .. Enumerable
                    .Range(0, 91)
                    .Select(i => Math.PI * (1 - i / 90.0))
                    .Select(a => new PlanePoint(200 * Math.Cos(a), 200 * Math.Sin(a) - 200)),
            ]
        );
        var drawn = Drawn(Sections with { Curves = [halfCircle] });

        var points = Curves(drawn, ChartTheme.Light.Left).Concat(Curves(drawn, ChartTheme.Light.Right)).SelectMany(Path).ToList();

        var (width, height) = (points.Max(p => p.X) - points.Min(p => p.X), points.Max(p => p.Y) - points.Min(p => p.Y));
        Assert.Equal(2, width / height, 0.01);
    }

    [Fact]
    public void The_left_half_is_whole_and_blue_the_right_half_broken_and_vermillion()
    {
        var drawn = Drawn(Sections with { Curves = [SampleBacks.Now] });

        Assert.Null(Assert.Single(Curves(drawn, ChartTheme.Light.Left)).Attribute("stroke-dasharray"));
        Assert.Equal("7 4", (string?)Assert.Single(Curves(drawn, ChartTheme.Light.Right)).Attribute("stroke-dasharray"));
        Assert.True(
            Path(Curves(drawn, ChartTheme.Light.Left).Single()).Max(p => p.X)
                <= Path(Curves(drawn, ChartTheme.Light.Right).Single()).Min(p => p.X)
        );
    }

    [Fact]
    public void In_inches_the_curves_lie_where_they_lay_and_the_grid_is_round_in_inches()
    {
        var inches = Sections with { Lengths = BackHistory.Trends.SinceFit.LengthUnit.Inches };

        Assert.Equal(
            Curves(Drawn(Sections), ChartTheme.Light.Left).SelectMany(Path),
            Curves(Drawn(inches), ChartTheme.Light.Left).SelectMany(Path)
        );
        Assert.Contains(Drawn(inches).Texts, t => t.Contains("Inches from the midline point", StringComparison.Ordinal));
        Assert.Contains("0″", Drawn(inches).Texts);
        Assert.DoesNotContain(Drawn(inches).Texts, t => t.Contains("mm", StringComparison.Ordinal));
        var widest = SampleBacks.Then.Points.Max(p => p.X) - SampleBacks.Then.Points.Min(p => p.X);
        Assert.Contains(
            FormattableString.Invariant($"traced {widest / 25.4:0.0}″ wide"),
            SectionChart.Draw(inches, ChartTheme.Light, ChartSize.Page).AltText,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void The_earlier_curve_is_lighter_than_now()
    {
        var (earlier, now) = (
            Ages.Colour(ChartTheme.Light, ChartTheme.Light.Left, 0, 2),
            Ages.Colour(ChartTheme.Light, ChartTheme.Light.Left, 1, 2)
        );

        Assert.Single(Curves(Drawn(Sections), earlier));
        Assert.True(Colours.Contrast(earlier, "#FFFFFF") < Colours.Contrast(now, "#FFFFFF"));
        Assert.Equal(ChartTheme.Light.Left, now);
    }

    [Fact]
    public void A_gap_is_left_open_dotted_and_its_length_said()
    {
        var whole = Drawn(Sections with { Curves = [SampleBacks.Now] });
        var open = Drawn(Sections with { Curves = [SampleBacks.NowWithGap] });
        var gap = SampleBacks.NowWithGap.Gaps[0];
        var length = Math.Sqrt(Math.Pow(gap.From.X - gap.To.X, 2) + Math.Pow(gap.From.Y - gap.To.Y, 2));

        Assert.Contains($"gap {length.ToString("F0", CultureInfo.InvariantCulture)}\u00a0mm", open.Texts);
        Assert.Single(open.Stroked(ChartTheme.Light.Muted), e => (string?)e.Attribute("stroke-dasharray") == "1.5 3.5");
        Assert.DoesNotContain(whole.Texts, t => t.StartsWith("gap", StringComparison.Ordinal));
        Assert.Equal(2, open.Stroked(ChartTheme.Light.Right).Count(e => Path(e).Count > 5));
    }

    [Fact]
    public void Mirrored_both_halves_lie_on_one_side()
    {
        var drawn = Drawn(Sections with { Curves = [SampleBacks.Now], MirrorLeftOnRight = true });

        var left = Path(Curves(drawn, ChartTheme.Light.Left).Single());
        var right = Path(Curves(drawn, ChartTheme.Light.Right).Single());
        Assert.Equal(left[0].X, right[0].X, 0.02);
        Assert.Equal(left[^1].X, right[^1].X, 0.02);
        Assert.NotEqual(left[^1].Y, right[^1].Y, 1);
    }

    [Fact]
    public void A_curve_without_points_or_with_a_point_at_infinity_is_refused()
    {
        Assert.Throws<NotDrawableException>(() => Drawn(Sections with { Curves = [] }));
        Assert.Throws<NotDrawableException>(() => Drawn(Sections with { Curves = [new("now", [])] }));
        Assert.Throws<NotDrawableException>(() => Drawn(Sections with { Curves = [new("now", [new(0, 0), new(double.NaN, 1)])] }));
    }

    [Fact]
    public void Every_station_of_a_topline_is_named_on_it()
    {
        var input = new ToplineChartInput
        {
            Finding = "The topline has dropped.",
            Subject = "Juniper",
            Curves = [SampleBacks.Topline("June", 30), SampleBacks.Topline("now", 50)],
        };
        var picture = new SvgPicture(ToplineChart.Draw(input, ChartTheme.Light, ChartSize.Page));

        Assert.Superset(
            new HashSet<string>(["shoulder", "behind-shoulder", "mid-back", "last-rib", "June", "now"]),
            picture.Texts.ToHashSet()
        );
        Assert.Equal(4, picture.Named("ellipse").Count(e => (string?)e.Attribute("fill") == ChartTheme.Light.Whole));
    }

    [Fact]
    public void The_small_picture_fills_the_back_now_and_draws_then_over_it()
    {
        var picture = new SvgPicture(BackPicture.Draw(new(SampleBacks.Now, SampleBacks.Then), ChartTheme.Light, BackPicture.Size));

        Assert.Single(
            picture.Named("path"),
            e => (string?)e.Attribute("fill-opacity") is not null && (string?)e.Attribute("fill") == ChartTheme.Light.Whole
        );
        Assert.Equal("3 3", (string?)Assert.Single(Curves(picture, ChartTheme.Light.Muted)).Attribute("stroke-dasharray"));
        Assert.Contains("12 Jun 2026, saddle set", picture.Texts);
    }

    /// <summary>Known and unknown places are two layers of the map; either may be empty.</summary>
    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 1)]
    [InlineData(null, 2)]
    public void A_change_map_is_drawn_of_a_back_that_was_traced_whole_nowhere_or_in_part(bool? whole, int layers)
    {
        var spots = SampleBacks.Change.Spots.Select(s => whole is null ? s : s with { Change = whole.Value ? s.Change ?? 0 : null });
        var picture = new SvgPicture(ChangeMapChart.Draw(SampleBacks.Change with { Spots = [.. spots] }, ChartTheme.Light, ChartSize.Page));

        Assert.Equal(layers, picture.Named("image").Count());
    }
}
