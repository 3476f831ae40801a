using BackHistory.Reports.Charts;
using BackHistory.Reports.Tests.Charts;

namespace BackHistory.Reports.Tests;

/// <summary>
/// Writes every picture to a folder for people to look at, when <c>BACKHISTORY_GALLERY</c> names one (relative to where the tests are started).
/// </summary>
public class Gallery
{
    public static IEnumerable<(string Name, Func<ChartTheme, ChartSize, Chart> Draw, ChartSize Size)> Charts =>
    [
        ("trend", (theme, size) => TrendChart.Draw(Samples.OneSide, theme, size), ChartSize.Page),
        ("trend-sides", (theme, size) => TrendChart.Draw(Samples.BothSides, theme, size), ChartSize.Page),
    ];

    [Fact]
    public void Every_picture_can_be_laid_out_to_look_at()
    {
        var folder = Environment.GetEnvironmentVariable("BACKHISTORY_GALLERY");
        foreach (var (name, draw, size) in Charts)
        {
            Keep(folder, $"{name}.png", draw(ChartTheme.Light, size).ToPng(2));
            Keep(folder, $"{name}-dark.png", draw(ChartTheme.Dark, size).ToPng(2));
            Keep(folder, $"{name}-phone.png", draw(ChartTheme.Light, ChartSize.Phone).ToPng(2));
            Keep(folder, $"{name}.svg", System.Text.Encoding.UTF8.GetBytes(draw(ChartTheme.Light, size).ToSvg()));
        }
    }

    static void Keep(string? folder, string name, byte[] bytes)
    {
        Assert.NotEmpty(bytes);
        if (folder is null)
            return;
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, name), bytes);
    }
}
