using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using BackHistory.Reports.Tests.Charts;
using SkiaSharp;

namespace BackHistory.Reports.Tests.Fonts;

public class ReportFontsTests
{
    [Fact]
    public void The_resolved_family_is_the_open_one_that_we_bring()
    {
        ReportFonts.Register();

        var resolved = ScottPlot.Fonts.GetTypeface(
            ReportFonts.Family,
            ScottPlot.FontWeight.Normal,
            ScottPlot.FontSlant.Upright,
            ScottPlot.FontSpacing.Normal
        );

        Assert.Equal("Open Sans", resolved.FamilyName);
        Assert.All(Enum.GetValues<Weight>(), w => Assert.StartsWith("Open Sans", ReportFonts.Face(w).FamilyName, StringComparison.Ordinal));
    }

    [Fact]
    public void The_three_weights_are_three_faces()
    {
        Assert.Equal(3, Enum.GetValues<Weight>().Select(w => Lettering.Width("saddle set in June", 20, w)).Distinct().Count());
    }

    [Fact]
    public void A_machine_without_the_font_hears_which_package_to_install()
    {
        var empty = Directory.CreateTempSubdirectory();

        var missing = Assert.Throws<FontMissingException>(() => FontFiles.Find([empty.FullName, "/no/such/folder"]));

        Assert.Contains("apt-get install fonts-open-sans", missing.Message, StringComparison.Ordinal);
        empty.Delete();
    }

    [Theory]
    [InlineData("Größe über 4° ± 2 mm² − ü ß é ñ ø ł")]
    [InlineData("馬の背中")]
    [InlineData("🐴")]
    public void Text_is_never_silently_dropped(string text)
    {
        using var surface = SKSurface.Create(new SKImageInfo(300, 60));
        new ChartCanvas(surface.Canvas, ChartTheme.Light, 300, 60, vector: false).Text(text, 10, 40, 24, "#000000");
        using var image = surface.Snapshot();

        Assert.True(Pixels.Count(image, (r, g, b) => r + g + b < 380) > 30, "no ink where the text should stand");
    }
}
