using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Whatever a history holds, a chart is drawn, in time, with every word inside the picture.</summary>
public class WildInputTests
{
    static void Inside(Chart chart)
    {
        foreach (var text in new SvgPicture(chart).Named("text"))
        {
            var (left, top) = Places.Of(text);
            var width = double.Parse((string?)text.Attribute("textLength") ?? "6", System.Globalization.CultureInfo.InvariantCulture);
            Assert.True(
                left >= -0.5 && left + width <= chart.Width + 0.5 && top >= 6 && top <= chart.Height,
                $"'{text.Value}' stands at {left:F0}–{left + width:F0}, {top:F0} of {chart.Width}×{chart.Height}"
            );
        }
    }

    [Fact]
    public void Random_histories_are_drawn_with_every_word_inside()
    {
        var random = new Random(20261125);
        for (var i = 0; i < 120; i++)
        {
            var size = random.Next(3) switch
            {
                0 => ChartSize.Phone,
                1 => ChartSize.Page,
                _ => new ChartSize(280 + random.Next(900), 200 + random.Next(500)),
            };
            Inside(TrendChart.Draw(Random(random), random.Next(2) == 0 ? ChartTheme.Light : ChartTheme.Dark, size));
        }
    }

    static TrendChartInput Random(Random random)
    {
        var start = new DateOnly(1990 + random.Next(40), 1, 1).AddDays(random.Next(365));
        var length = (int)Math.Pow(10, random.NextDouble() * 4);
        DateOnly Day() => start.AddDays(random.Next(length + 1));
        var (level, spread) = (
            Math.Pow(10, random.NextDouble() * 8 - 4) * (random.Next(2) * 2 - 1),
            Math.Pow(10, random.NextDouble() * 6 - 3)
        );
        TrendSeries Series(SeriesSide side) =>
            new()
            {
                Side = side,
                Visits =
                [
                    .. Enumerable
                        .Range(0, random.Next(30))
                        .Select(_ => new VisitValue(
                            Day(),
                            level + spread * random.NextDouble(),
                            random.Next(3) == 0 ? 0 : spread * random.NextDouble()
                        )),
                ],
                Trend =
                [
                    .. Enumerable
                        .Range(0, random.Next(50))
                        .Select(_ => Day())
                        .Distinct()
                        .Select(d => new TrendPoint(d, level, spread * random.NextDouble())),
                ],
                Baseline = random.Next(3) == 0 ? null : new(Day(), level, spread * random.NextDouble()),
            };
        string Words(int most) =>
            string.Join(' ', Enumerable.Range(0, 1 + random.Next(most)).Select(_ => new string('m', 1 + random.Next(14))));
        return new()
        {
            Finding = Words(50),
            Subject = Words(14),
            Unit = random.Next(2) == 0 ? "°" : "cm²",
            Decimals = random.Next(4),
            Series = random.Next(2) == 0 ? [Series(SeriesSide.Whole)] : [Series(SeriesSide.Left), Series(SeriesSide.Right)],
            SaddleWork = [.. Enumerable.Range(0, random.Next(14)).Select(i => new SaddleMark(Day(), Words(3), i == 0))],
            Spans =
            [
                .. Enumerable
                    .Range(0, random.Next(7))
                    .Select(_ => Day())
                    .Select(d => new HorseSpan(
                        d,
                        random.Next(2) == 0 ? null : d.AddDays(random.Next(200)),
                        (SpanKind)random.Next(3),
                        Words(2)
                    )),
            ],
            Today = Day(),
        };
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1e-300, 0)]
    [InlineData(1e300, 1e290)]
    [InlineData(-1e15, 1e-9)]
    [InlineData(5e-324, 1e300)]
    public void Values_at_the_ends_of_the_numbers_are_drawn(double value, double sd)
    {
        var series = new TrendSeries
        {
            Visits = [new(new(2026, 1, 1), value, sd), new(new(2026, 6, 1), value + sd, sd)],
            Baseline = new(new(2026, 1, 1), value, sd),
        };

        Assert.NotEmpty(
            TrendChart
                .Draw(Samples.OneSide with { Series = [series], SaddleWork = [], Spans = [] }, ChartTheme.Light, ChartSize.Page)
                .ToSvg()
        );
    }

    [Fact]
    public void The_first_and_the_last_day_there_is_are_drawn()
    {
        var series = new TrendSeries { Visits = [new(DateOnly.MinValue, 1, 1), new(DateOnly.MaxValue, 2, 1)] };

        Inside(TrendChart.Draw(Samples.OneSide with { Series = [series], Today = DateOnly.MaxValue }, ChartTheme.Light, ChartSize.Page));
    }

    [Fact]
    public void Five_thousand_visits_are_drawn()
    {
        var visits = Enumerable
            .Range(0, 5000)
            .Select(i => new VisitValue(new DateOnly(2000, 1, 1).AddDays(i * 2), 40 + Math.Sin(i / 50.0), 1))
            .ToList();

        Assert.NotEmpty(
            TrendChart.Draw(Samples.OneSide with { Series = [new() { Visits = visits }] }, ChartTheme.Light, ChartSize.Page).ToPng(1)
        );
    }

    [Fact]
    public void A_finding_of_a_whole_page_makes_the_picture_higher_instead_of_losing_words()
    {
        var finding = string.Join(' ', Enumerable.Range(0, 120).Select(i => $"word{i}"));
        var chart = TrendChart.Draw(Samples.OneSide with { Finding = finding }, ChartTheme.Light, ChartSize.Phone);

        Assert.True(chart.Height > ChartSize.Phone.Height);
        Inside(chart);
        Assert.Contains("word119", string.Join(' ', new SvgPicture(chart).Texts), StringComparison.Ordinal);
    }

    [Fact]
    public void Random_sections_are_drawn_with_every_word_inside()
    {
        var random = new Random(7);
        for (var i = 0; i < 60; i++)
        {
            var scale = Math.Pow(10, random.NextDouble() * 5 - 2);
            var curves = Enumerable
                .Range(0, 1 + random.Next(4))
                .Select(c => new SectionCurve(
                    $"curve {c}",
                    [
                        .. Enumerable
                            .Range(0, 2 + random.Next(200))
                            .Select(_ => new PlanePoint((random.NextDouble() - 0.5) * scale, random.NextDouble() * -scale)),
                    ]
                ))
                .ToList();
            var input = new SectionChartInput
            {
                Finding = "Any shape at all.",
                Subject = "x",
                Curves = curves,
                MirrorLeftOnRight = random.Next(2) == 0,
            };
            Inside(SectionChart.Draw(input, ChartTheme.Light, random.Next(2) == 0 ? ChartSize.Phone : ChartSize.Page));
        }
    }
}
