using System.Globalization;
using System.Xml.Linq;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>What holds for every chart of the gallery.</summary>
public class EveryChartTests
{
    public static TheoryData<string> Names => [.. Gallery.Charts.Select(c => c.Name)];

    static Chart Drawn(string name, ChartTheme theme, ChartSize? size = null)
    {
        var (_, draw, own) = Gallery.Charts.Single(c => c.Name == name);
        return draw(theme, size ?? own);
    }

    [Theory, MemberData(nameof(Names))]
    public void The_same_input_gives_the_same_bytes_in_another_culture_and_on_another_thread(string name)
    {
        var (svg, png) = (Drawn(name, ChartTheme.Light).ToSvg(), Drawn(name, ChartTheme.Light).ToPng(1));
        var others = new List<(string Svg, byte[] Png)>();
        var threads = new[] { "de-DE", "ar-SA", "th-TH" }
            .Select(culture => new Thread(() =>
            {
                CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(culture);
                var chart = Drawn(name, ChartTheme.Light);
                lock (others)
                    others.Add((chart.ToSvg(), chart.ToPng(1)));
            }))
            .ToList();
        threads.ForEach(t => t.Start());
        threads.ForEach(t => t.Join());

        Assert.Equal(3, others.Count);
        Assert.All(others, o => Assert.Equal(svg, o.Svg));
        Assert.All(others, o => Assert.Equal(png, o.Png));
    }

    [Fact]
    public void Sixty_four_pictures_drawn_at_once_come_out_alike()
    {
        var alone = TrendChart.Draw(Samples.BothSides, ChartTheme.Light, ChartSize.Page);
        var (svg, png) = (alone.ToSvg(), alone.ToPng(1));
        var wrong = 0;

        Parallel.For(
            0,
            64,
            new ParallelOptions { MaxDegreeOfParallelism = 8 },
            i =>
            {
                var chart = TrendChart.Draw(Samples.BothSides, ChartTheme.Light, ChartSize.Page);
                if (i % 2 == 0 ? chart.ToSvg() != svg : !chart.ToPng(1).AsSpan().SequenceEqual(png))
                    Interlocked.Increment(ref wrong);
            }
        );

        Assert.Equal(0, wrong);
    }

    [Theory, MemberData(nameof(Names))]
    public void A_picture_at_scale_two_has_twice_the_dots(string name)
    {
        var chart = Drawn(name, ChartTheme.Light);

        Assert.Equal((chart.Width, chart.Height), Pixels.Size(chart.ToPng(1)));
        Assert.Equal((2 * chart.Width, 2 * chart.Height), Pixels.Size(chart.ToPng(2)));
    }

    [Theory, MemberData(nameof(Names))]
    public void The_svg_is_well_formed_titled_described_and_light(string name)
    {
        var chart = Drawn(name, ChartTheme.Light);
        var svg = chart.ToSvg();
        var root = XElement.Parse(svg);

        Assert.Equal($"0 0 {chart.Width} {chart.Height}", (string?)root.Attribute("viewBox"));
        Assert.Equal("img", (string?)root.Attribute("role"));
        Assert.Equal([chart.Title, chart.AltText], root.Elements().Take(2).Select(e => e.Value));
        Assert.InRange(svg.Length, 500, 60_000);
    }

    [Theory, MemberData(nameof(Names))]
    public void No_text_runs_out_of_the_picture_on_a_phone_or_a_page(string name)
    {
        foreach (var size in new[] { null, ChartSize.Phone })
        {
            var chart = Drawn(name, ChartTheme.Light, size);
            foreach (var text in new SvgPicture(chart).Named("text"))
            {
                var (left, top) = Places.Of(text);
                var width = double.Parse((string?)text.Attribute("textLength") ?? "6", CultureInfo.InvariantCulture);
                Assert.True(
                    left >= 0 && left + width <= chart.Width + 0.5 && top >= 8 && top <= chart.Height,
                    $"'{text.Value}' stands at {left:F0}–{left + width:F0}, {top:F0} of {chart.Width}×{chart.Height}"
                );
            }
        }
    }

    [Theory, MemberData(nameof(Names))]
    public void Every_text_can_be_read_on_its_ground(string name)
    {
        foreach (var theme in new[] { ChartTheme.Light, ChartTheme.Dark })
        {
            // WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1.
            foreach (var text in new SvgPicture(Drawn(name, theme)).Named("text"))
                Assert.True(
                    Colours.Contrast((string?)text.Attribute("fill") is { } c && c.StartsWith('#') ? c : "#000000", theme.Background)
                        >= 4.5,
                    text.ToString()
                );
        }
    }

    [Theory, MemberData(nameof(Names))]
    public void A_dark_page_gets_a_dark_ground(string name)
    {
        var dots = Pixels.Near(Drawn(name, ChartTheme.Dark).ToPng(1), ChartTheme.Dark.Background, within: 2);

        Assert.Contains((1, 1), dots);
    }
}

public class ChartThemeTests
{
    [Fact]
    public void Lines_stand_out_from_the_ground_in_both_themes()
    {
        // WCAG 2.2, success criterion 1.4.11: at least 3 to 1 for what a graphic needs to be understood.
        foreach (var theme in new[] { ChartTheme.Light, ChartTheme.Dark })
        {
            foreach (var colour in new[] { theme.Left, theme.Right, theme.Whole, theme.Threshold })
                Assert.True(Colours.Contrast(colour, theme.Background) >= 3, colour);
        }
    }

    [Fact]
    public void Earlier_is_lighter_and_now_is_darkest()
    {
        var theme = ChartTheme.Light;
        foreach (var colour in new[] { theme.Left, theme.Right, theme.Whole })
            Assert.True(Colours.Contrast(theme.Earlier(colour), theme.Background) < Colours.Contrast(colour, theme.Background));
    }

    [Fact, Trait("source", "WCAG 2.2, contrast ratio (black on white 21:1)")]
    public void Black_on_white_has_the_highest_contrast_there_is() => Assert.Equal(21, Colours.Contrast("#000000", "#FFFFFF"), 9);
}
