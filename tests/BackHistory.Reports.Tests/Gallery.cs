using BackHistory.History.Reminders;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Sheets;
using BackHistory.Reports.Tests.Charts;
using BackHistory.Reports.Tests.Letters;
using BackHistory.Reports.Tests.Sheets;

namespace BackHistory.Reports.Tests;

/// <summary>
/// Writes every picture to <c>artifacts/gallery</c> for people to look at, when <c>BACKHISTORY_GALLERY</c> is 1; or to the folder that it
/// names.
/// </summary>
public class Gallery
{
    public static IEnumerable<(string Name, Func<ChartTheme, ChartSize, Chart> Draw, ChartSize Size)> Charts =>
        [
            ("trend", (theme, size) => TrendChart.Draw(Samples.OneSide, theme, size), ChartSize.Page),
            ("trend-sides", (theme, size) => TrendChart.Draw(Samples.BothSides, theme, size), ChartSize.Page),
            ("sections", (theme, size) => SectionChart.Draw(Sections, theme, size), ChartSize.Page),
            (
                "sections-mirrored",
                (theme, size) =>
                    SectionChart.Draw(Sections with { MirrorLeftOnRight = true, Finding = "Right is hollower than left." }, theme, size),
                new(560, 420)
            ),
            ("toplines", (theme, size) => ToplineChart.Draw(Toplines, theme, size), new(760, 330)),
            (
                "back",
                (theme, _) =>
                    BackPicture.Draw(
                        new(SampleBacks.Now with { Label = "now" }, SampleBacks.Then with { Label = "when the saddle was set in June" }),
                        theme,
                        BackPicture.Size
                    ),
                BackPicture.Size
            ),
            ("sparkline", (theme, _) => SparklineChart.Draw(Spark, theme, SparklineChart.Size), SparklineChart.Size),
            (
                "condition",
                (theme, size) => ConditionChart.Draw(Samples.Condition, theme, new(size.Width, ConditionChart.SizeFor(4).Height)),
                ConditionChart.SizeFor(4)
            ),
            ("bland-altman", (theme, size) => BlandAltmanChart.Draw(SampleStudies.FlowMeters, theme, size), new(620, 400)),
            ("operating-curve", (theme, size) => OperatingCurveChart.Draw(SampleStudies.Deciders, theme, size), ChartSize.Page),
            ("refit-forecast", (theme, size) => RefitForecastChart.Draw(SampleStudies.Refits, theme, size), new(760, 340)),
            ("change-map", (theme, size) => ChangeMapChart.Draw(SampleBacks.Change, theme, size), new(640, 460)),
            ("gauge", (theme, size) => GaugeChart.Draw(SampleStudies.Gauge, theme, size), new(560, 380)),
        ];

    static SparklineInput Spark { get; } =
        new()
        {
            Measure = "Slope of the left shoulder",
            Unit = "°",
            Series = Samples.OneSide.Series[0],
            Today = Samples.Today,
        };

    static SectionChartInput Sections { get; } =
        new()
        {
            Finding = "The back has hollowed on the right, 60 to 120 mm below the midline, since the saddle was set.",
            Subject = "Juniper: behind-shoulder",
            Curves = [SampleBacks.Section("3 Mar 2026", 166, 168, 2), SampleBacks.Then, SampleBacks.NowWithGap],
        };

    static ToplineChartInput Toplines { get; } =
        new()
        {
            Finding = "The topline has dropped by 18 mm since June.",
            Subject = "Juniper",
            Curves = [SampleBacks.Topline("12 Jun 2026", 30), SampleBacks.Topline("25 Nov 2026", 52)],
        };

    [Fact]
    public void Every_picture_can_be_laid_out_to_look_at()
    {
        foreach (var (name, draw, size) in Charts)
        {
            Keep($"{name}.png", draw(ChartTheme.Light, size).ToPng(2));
            Keep($"{name}-dark.png", draw(ChartTheme.Dark, size).ToPng(2));
            Keep($"{name}-phone.png", draw(ChartTheme.Light, ChartSize.Phone).ToPng(2));
            Keep($"{name}.svg", System.Text.Encoding.UTF8.GetBytes(draw(ChartTheme.Light, size).ToSvg()));
        }
    }

    [Theory]
    [InlineData("en")]
    [InlineData("de")]
    public void Every_letter_can_be_laid_out_to_look_at(string tag)
    {
        var language = ReportLanguage.For(tag);
        foreach (var kind in Enum.GetValues<LetterKind>())
        {
            var letter = LetterBook.Write(kind, SampleLetters.Of(kind, language));
            // A browser knows no cid: the pictures stand in the page instead.
            var html = letter.Images.Aggregate(
                letter.Html,
                (text, image) =>
                    text.Replace(
                        $"cid:{image.ContentId}",
                        $"data:image/png;base64,{Convert.ToBase64String(image.Png)}",
                        StringComparison.Ordinal
                    )
            );
            Keep($"letter-{kind}-{language}.html", System.Text.Encoding.UTF8.GetBytes(html));
            Keep($"letter-{kind}-{language}.txt", System.Text.Encoding.UTF8.GetBytes($"{letter.Subject}\n\n{letter.Text}"));
        }
    }

    public static IEnumerable<(string Name, byte[] Pdf)> Sheets { get; } =
    [
        ("bench", BenchTemplate.Write(SampleSheets.Bench)),
        ("tracing-sheet-a3", TracingSheet.Write(SampleSheets.Head, TracingPaper.A3)),
        ("setting", SettingSheet.Write(SampleSheets.Setting)),
        ("comparison", ComparisonReport.Write(SampleSheets.Comparison)),
        ("vet-report", VetReport.Write(SampleSheets.Vet)),
    ];

    [Fact]
    public void Every_sheet_can_be_laid_out_to_look_at()
    {
        foreach (var (name, pdf) in Sheets)
            Keep($"sheet-{name}.pdf", pdf);
    }

    static readonly string? Folder = Environment.GetEnvironmentVariable("BACKHISTORY_GALLERY") switch
    {
        null or "" => null,
        "1" => Path.Combine(Root(), "artifacts", "gallery"),
        var named => named,
    };

    static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "BackHistory.sln")))
            folder = folder.Parent ?? throw new InvalidOperationException("The tests lie outside the repository.");
        return folder.FullName;
    }

    static void Keep(string name, byte[] bytes)
    {
        Assert.NotEmpty(bytes);
        if (Folder is null)
            return;
        Directory.CreateDirectory(Folder);
        File.WriteAllBytes(Path.Combine(Folder, name), bytes);
    }
}
