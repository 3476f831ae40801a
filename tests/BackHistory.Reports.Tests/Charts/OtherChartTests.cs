using System.Text;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Tests.Charts;

public class SparklineChartTests
{
    static readonly SparklineInput Busy = new()
    {
        Measure = "Slope of the left shoulder",
        Unit = "°",
        Today = Samples.Today,
        Series = Samples.OneSide.Series[0] with
        {
            Trend =
            [
                .. Enumerable
                    .Range(0, 2000)
                    .Select(i => new TrendPoint(new DateOnly(2016, 1, 1).AddDays(i * 2 - 1), 40 + Math.Sin(i / 90.0) * 3.123456, 1.23456)),
            ],
        },
    };

    [Fact]
    public void The_row_of_a_caseload_stays_under_three_kilobytes_even_with_ten_years_of_history() =>
        Assert.InRange(Encoding.UTF8.GetByteCount(SparklineChart.Draw(Busy, ChartTheme.Light, SparklineChart.Size).ToSvg()), 800, 3000);

    [Fact]
    public void It_shows_band_line_thresholds_and_the_last_visit()
    {
        var picture = new SvgPicture(SparklineChart.Draw(Busy, ChartTheme.Light, SparklineChart.Size));

        Assert.Single(picture.Named("path"), e => (string?)e.Attribute("fill") == ChartTheme.Light.Left);
        Assert.Single(picture.Stroked(ChartTheme.Light.Left), e => ((string)e.Attribute("d")!).Length > 100);
        Assert.Equal(2, picture.Stroked(ChartTheme.Light.Threshold).Count());
        Assert.Single(picture.Named("ellipse"), e => (string?)e.Attribute("fill") == ChartTheme.Light.Left);
    }

    [Fact]
    public void A_horse_without_a_visit_has_an_empty_row_that_says_so_in_words()
    {
        var chart = SparklineChart.Draw(Busy with { Series = new() { Visits = [] } }, ChartTheme.Light, SparklineChart.Size);

        Assert.Equal("Slope of the left shoulder: no visit.", chart.AltText);
        Assert.Empty(new SvgPicture(chart).Named("path"));
    }
}

public class ConditionChartTests
{
    static SvgPicture Drawn(ConditionChartInput input) => new(ConditionChart.Draw(input, ChartTheme.Light, ConditionChart.SizeFor(4)));

    [Fact]
    public void Every_panel_is_named_and_what_explains_a_change_is_marked()
    {
        Assert.Superset(
            new HashSet<string>([
                "Half areas to 100 mm",
                "Topline drop",
                "Weight",
                "Body condition, 1 to 9",
                "lay-off",
                "cough",
                "saddle set 12 Jun 2026",
                "left and right part 20 Jul 2026",
            ]),
            Drawn(Samples.Condition).Texts.ToHashSet()
        );
    }

    [Fact]
    public void Days_stand_under_days()
    {
        // The baseline's line has the same x in each of the four panels.
        var lines = Drawn(Samples.Condition)
            .Stroked(ChartTheme.Light.ChartCanvas)
            .Where(e => (string?)e.Attribute("stroke-width") == "1.6")
            .Select(e => ((string)e.Attribute("d")!)[1..].Split(' ')[0])
            .ToList();

        Assert.True(lines.Count >= 4);
        Assert.Single(lines.Distinct());
    }

    [Fact]
    public void The_alt_text_says_from_what_to_what_each_side_went()
    {
        var series = Samples.Condition.Panels[0].Series[1];
        var chart = ConditionChart.Draw(Samples.Condition, ChartTheme.Light, ConditionChart.SizeFor(4));

        Assert.Contains(
            FormattableString.Invariant(
                $"right from {series.Visits[0].Value:F1}\u00a0cm² (20 Sep 2025) to {series.Visits[^1].Value:F1}\u00a0cm² (10 Nov 2026)"
            ),
            chart.AltText,
            StringComparison.Ordinal
        );
        Assert.Contains("left and right part 20 Jul 2026 (28 Jun 2026 to 24 Aug 2026).", chart.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void It_says_that_it_does_not_diagnose() =>
        Assert.Contains(Drawn(Samples.Condition).Texts, t => t.Contains("it does not diagnose", StringComparison.Ordinal));
}

public class StudyChartTests
{
    [Fact, Trait("source", "Bland & Altman 1986, Lancet i:307-310, table of peak expiratory flow, first readings")]
    public void The_two_meters_of_Bland_and_Altman_are_drawn_with_their_limits()
    {
        var pairs = SampleStudies.FlowMeters.Pairs;
        var picture = new SvgPicture(BlandAltmanChart.Draw(SampleStudies.FlowMeters, ChartTheme.Light, new(620, 400)));

        // The limits handed in are those of the pairs handed in.
        var differences = pairs.Select(p => p.First - p.Second).ToList();
        var sd = Math.Sqrt(differences.Sum(d => Math.Pow(d - differences.Average(), 2)) / (differences.Count - 1));
        Assert.Equal(differences.Average(), SampleStudies.FlowMeters.Bias, 6);
        Assert.Equal(differences.Average() + 1.96 * sd, SampleStudies.FlowMeters.UpperLimit, 3);
        Assert.Superset(
            new HashSet<string>(["bias −2.1\u00a0l/min", "95 % limit +73.9\u00a0l/min", "95 % limit −78.1\u00a0l/min"]),
            picture.Texts.ToHashSet()
        );
        Assert.Equal(17, picture.Named("ellipse").Count(e => (string?)e.Attribute("fill") == ChartTheme.Light.Whole));
    }

    [Fact]
    public void The_setting_in_use_lies_inside_the_promise()
    {
        var chart = OperatingCurveChart.Draw(SampleStudies.Deciders, ChartTheme.Light, ChartSize.Page);
        var picture = new SvgPicture(chart);
        var kept = picture
            .Named("rect")
            .Single(e => (string?)e.Attribute("fill") == ChartTheme.Light.Work && e.Attribute("fill-opacity") is not null);
        var use = picture.Named("ellipse").Single(e => (string?)e.Attribute("fill") == ChartTheme.Light.Whole);

        double Number(System.Xml.Linq.XElement e, string name) =>
            double.Parse((string?)e.Attribute(name) ?? "0", System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(Number(use, "cx"), Number(kept, "x"), Number(kept, "x") + Number(kept, "width"));
        Assert.InRange(Number(use, "cy"), Number(kept, "y"), Number(kept, "y") + Number(kept, "height"));
        Assert.Contains("97.0 % found at 0.040 false alarms a horse and year", chart.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void Months_to_come_are_paler_and_carry_an_interval()
    {
        var chart = RefitForecastChart.Draw(SampleStudies.Refits, ChartTheme.Light, new(760, 340));
        var bars = new SvgPicture(chart)
            .Named("rect")
            .GroupBy(e => (string?)e.Attribute("fill"))
            .ToDictionary(g => g.Key ?? "", g => g.Count());

        Assert.Equal(6 + 1, bars[ChartTheme.Light.Whole]);
        Assert.Equal(6 + 1, bars[Reports.Charts.Drawing.Colours.Thin(ChartTheme.Light, ChartTheme.Light.Whole, 0.4)]);
        Assert.Contains("Mar 2027: 18 (13–25)", chart.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void The_proposal_stands_on_the_gauge_between_its_marks()
    {
        var picture = new SvgPicture(GaugeChart.Draw(SampleStudies.Gauge, ChartTheme.Light, new(560, 380)));
        double X(string text) => picture.Named("text").Where(t => t.Value == text).Select(t => Places.Of(t).X).Single();
        var left = picture
            .Named("ellipse")
            .Where(e => (string?)e.Attribute("fill") == ChartTheme.Light.Left)
            .Select(e => double.Parse((string)e.Attribute("cx")!, System.Globalization.CultureInfo.InvariantCulture))
            .Max();

        Assert.InRange(left, X("E"), X("F") + 10);
        Assert.Superset(new HashSet<string>(["46.1°", "42.0°", "left between E and F", "right D"]), picture.Texts.ToHashSet());
    }

    [Fact]
    public void Nothing_that_cannot_be_drawn_is_drawn()
    {
        Assert.Throws<NotDrawableException>(() =>
            GaugeChart.Draw(SampleStudies.Gauge with { Marks = [new("A", 30)] }, ChartTheme.Light, ChartSize.Page)
        );
        Assert.Throws<NotDrawableException>(() =>
            RefitForecastChart.Draw(SampleStudies.Refits with { Months = [] }, ChartTheme.Light, ChartSize.Page)
        );
        Assert.Throws<NotDrawableException>(() =>
            BlandAltmanChart.Draw(SampleStudies.FlowMeters with { Bias = double.NaN }, ChartTheme.Light, ChartSize.Page)
        );
        Assert.Throws<NotDrawableException>(() =>
            OperatingCurveChart.Draw(SampleStudies.Deciders with { Curves = [new("x", [new(0.1, 1.2)])] }, ChartTheme.Light, ChartSize.Page)
        );
    }
}
