using System.Globalization;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Tests.Charts;

public class TrendChartTests
{
    static Chart Drawn(TrendChartInput input, ChartTheme? theme = null) =>
        TrendChart.Draw(input, theme ?? ChartTheme.Light, ChartSize.Page);

    [Fact]
    public void The_title_states_the_finding_over_as_many_lines_as_it_needs()
    {
        var picture = new SvgPicture(Drawn(Samples.OneSide));

        Assert.Equal(
            Samples.OneSide.Finding,
            string.Join(' ', picture.Named("text").Where(t => (string?)t.Attribute("font-size") == "18").Select(t => t.Value))
        );
        Assert.Equal(Samples.OneSide.Finding, picture.Named("title").First().Value);
    }

    [Fact]
    public void The_thresholds_stand_at_the_baseline_plus_and_minus_the_allowance_and_say_so()
    {
        var texts = new SvgPicture(Drawn(Samples.OneSide)).Texts.ToList();
        var level = Samples.OneSide.Series[0].Baseline!.Level;

        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"threshold {level + 4:F1}° (+4.0)"), texts);
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"threshold {level - 4:F1}° (−4.0)"), texts);
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"as set {level:F1}°"), texts);
    }

    [Fact]
    public void The_baseline_and_the_other_refits_are_marked_with_their_dates()
    {
        var texts = new SvgPicture(Drawn(Samples.OneSide)).Texts.ToList();

        Assert.Contains("saddle set 12 Jun 2026", texts);
        Assert.Contains("saddle re-flocked 3 Dec 2025", texts);
        Assert.Contains("today 25 Nov 2026", texts);
        Assert.Superset(new HashSet<string>(["lay-off", "cough", "five days a week"]), texts.ToHashSet());
    }

    [Fact]
    public void Left_and_right_differ_by_colour_and_by_dash()
    {
        var picture = new SvgPicture(Drawn(Samples.BothSides));
        bool Thick(System.Xml.Linq.XElement e) => (string?)e.Attribute("stroke-width") == "2.6";

        Assert.All(picture.Stroked(ChartTheme.Light.Left).Where(Thick), e => Assert.Null(e.Attribute("stroke-dasharray")));
        Assert.All(
            picture.Stroked(ChartTheme.Light.Right).Where(Thick),
            e => Assert.Equal("7 4", (string?)e.Attribute("stroke-dasharray"))
        );
        Assert.Single(picture.Stroked(ChartTheme.Light.Left), Thick);
        Assert.Single(picture.Stroked(ChartTheme.Light.Right), Thick);
        Assert.Superset(new HashSet<string>(["left", "right"]), picture.Texts.ToHashSet());
    }

    [Fact]
    public void The_line_lies_where_the_level_is()
    {
        // A level that never moves is a straight line at one height; the visit's mark sits on it.
        var flat = Samples.OneSide with
        {
            SaddleWork = [],
            Spans = [],
            Series =
            [
                new()
                {
                    Side = SeriesSide.Left,
                    Visits = [new(new(2026, 1, 1), 40, 1)],
                    Trend = [.. Enumerable.Range(0, 11).Select(i => new TrendPoint(new DateOnly(2026, 1, 1).AddDays(30 * i), 40, 1))],
                },
            ],
            Today = new(2026, 10, 28),
        };

        var dots = Pixels.Near(Drawn(flat).ToPng(1), ChartTheme.Light.Left);

        var rows = dots.GroupBy(d => d.Y).OrderByDescending(g => g.Count()).Take(2).ToList();
        Assert.All(rows, row => Assert.InRange(row.Count(), 500, 760));
        var mark = dots.Where(d => d.X < 90).ToList();
        Assert.InRange(mark.Average(d => d.Y), rows.Average(r => r.Key) - 1.5, rows.Average(r => r.Key) + 1.5);
    }

    [Fact]
    public void A_page_can_point_at_every_visit_and_read_its_values()
    {
        var visits = Samples.OneSide.Series[0].Visits;
        var spots = new SvgPicture(Drawn(Samples.OneSide)).Named("circle").ToList();
        var last = spots[^1];

        Assert.Equal(
            visits.Select(v => v.On.ToString("O", CultureInfo.InvariantCulture)),
            spots.Select(s => (string?)s.Attribute("data-on"))
        );
        Assert.Equal(visits[^1].Value, double.Parse((string)last.Attribute("data-value")!, CultureInfo.InvariantCulture));
        Assert.Equal(
            string.Create(CultureInfo.InvariantCulture, $"14 Nov 2026: left {visits[^1].Value:F1}° ± {visits[^1].Sd:F1}"),
            last.Value
        );
    }

    [Fact]
    public void A_visits_mark_lies_where_a_page_points()
    {
        var chart = Drawn(Samples.OneSide);
        var picture = new SvgPicture(chart);
        var marks = picture.Named("ellipse").Where(e => (string?)e.Attribute("fill") == ChartTheme.Light.Left).ToList();
        double N(System.Xml.Linq.XElement e, string name) => double.Parse((string)e.Attribute(name)!, CultureInfo.InvariantCulture);

        Assert.All(
            picture.Named("circle"),
            spot => Assert.Contains(marks, m => Math.Abs(N(m, "cx") - N(spot, "cx")) < 0.5 && Math.Abs(N(m, "cy") - N(spot, "cy")) < 0.5)
        );
    }

    [Fact]
    public void The_forecast_is_paler_than_what_is_known()
    {
        var picture = new SvgPicture(Drawn(Samples.OneSide));
        var paler = picture
            .Root.Descendants()
            .Single(e =>
                (string?)e.Attribute("stroke-width") == "2"
                && (string?)e.Attribute("fill") == "none"
                && ((string?)e.Attribute("stroke"))!.StartsWith('#')
                && ((string)e.Attribute("d")!).Length > 60
            );

        Assert.True(
            Reports.Charts.Drawing.Colours.Contrast((string)paler.Attribute("stroke")!, "#FFFFFF")
                < Reports.Charts.Drawing.Colours.Contrast(ChartTheme.Light.Left, "#FFFFFF")
        );
    }

    [Fact]
    public void The_alt_text_carries_the_numbers()
    {
        var chart = Drawn(Samples.OneSide);
        var last = Samples.OneSide.Series[0].Visits[^1];

        Assert.Contains(
            string.Create(CultureInfo.InvariantCulture, $"last {last.Value:F1}° ± {last.Sd:F1} on 14 Nov 2026"),
            chart.AltText,
            StringComparison.Ordinal
        );
        Assert.Contains("threshold 4.0°", chart.AltText, StringComparison.Ordinal);
        Assert.StartsWith(Samples.OneSide.Finding, chart.AltText, StringComparison.Ordinal);
    }

    [Fact]
    public void A_German_chart_speaks_German_throughout()
    {
        var chart = Drawn(
            Samples.OneSide with
            {
                Finding = "Die linke Schulter hat sich seit Juni um 5,1° geöffnet.",
                Subject = "Juniper: Neigung der linken Schulter",
                SaddleWork = [new(Samples.Set, "Sattel eingestellt", IsBaseline: true)],
                Spans = [],
                Language = ReportLanguage.For("de"),
            }
        );
        var words = chart.AltText + string.Join(' ', new SvgPicture(chart).Texts);

        Assert.Contains("Sattel eingestellt 12. Juni 2026", words, StringComparison.Ordinal);
        Assert.Contains("Schwelle 46,1° (+4,0)", words, StringComparison.Ordinal);
        Assert.DoesNotMatch(@"\b(threshold|visits?|today|forecast|band|since|last|baseline|left|Nov 20|May)\b", words);
    }

    [Fact]
    public void A_horse_without_a_visit_gets_a_sentence_instead_of_an_empty_frame()
    {
        var chart = Drawn(Samples.OneSide with { Series = [new() { Side = SeriesSide.Left, Visits = [] }] });

        Assert.Contains("No visit on record yet. The first tracing starts this chart.", new SvgPicture(chart).Texts);
    }

    [Fact]
    public void One_visit_and_nothing_else_is_drawn()
    {
        var chart = Drawn(
            Samples.OneSide with
            {
                Series = [new() { Side = SeriesSide.Left, Visits = [new(Samples.Today, 40, 0)] }],
                SaddleWork = [],
                Spans = [],
            }
        );

        Assert.NotEmpty(Pixels.Near(chart.ToPng(1), ChartTheme.Light.Left));
        Assert.Contains("one visit, last 40.0° ± 0.0 on 25 Nov 2026", chart.AltText, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(double.PositiveInfinity, 1)]
    [InlineData(40, -1)]
    [InlineData(40, double.NaN)]
    public void A_value_that_cannot_be_drawn_is_refused_with_its_date(double value, double sd)
    {
        var input = Samples.OneSide with { Series = [new() { Side = SeriesSide.Left, Visits = [new(new(2026, 3, 4), value, sd)] }] };

        Assert.Contains("2026-03-04", Assert.Throws<NotDrawableException>(() => Drawn(input)).Message, StringComparison.Ordinal);
    }
}
