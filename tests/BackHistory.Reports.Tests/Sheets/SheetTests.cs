using System.Globalization;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets;
using BackHistory.Reports.Sheets.Content;
using BackHistory.Reports.Sheets.Drawing;

namespace BackHistory.Reports.Tests.Sheets;

public class BenchTemplateTests
{
    static readonly PdfDrawing Bench = new(BenchTemplate.Write(SampleSheets.Bench));
    static readonly TilePlan Plan = TilePlan.Plan(SampleSheets.Bench.Curve.Points);

    [Fact]
    public void The_check_square_measures_100_mm_both_ways()
    {
        Assert.Contains(
            Bench.Paths(0),
            p => p.Corners.Count == 4 && !p.Filled && Math.Abs(p.Width - 100) < 0.05 && Math.Abs(p.Height - 100) < 0.05
        );
    }

    [Fact]
    public void Every_page_has_a_bar_of_100_mm()
    {
        for (var page = 1; page < Bench.Pages; page++)
            Assert.Contains(Bench.Paths(page), p => p.Corners.Count == 2 && Math.Abs(p.Width - 100) < 0.05 && p.Height < 0.01);
    }

    [Fact]
    public void Put_together_by_its_marks_the_contour_is_the_horse_to_a_fifth_of_a_millimetre()
    {
        // Each page's points back into the horse's millimetres by its first registration mark.
        var points = new List<(double X, double Y)>();
        for (var page = 1; page < Bench.Pages; page++)
        {
            var tile = Plan.Tiles[page - 1];
            var mark = Plan.Marks.First(m =>
                m.X > tile.Left && m.X < tile.Left + Plan.Page.Width && m.Y < tile.Top && m.Y > tile.Top - Plan.Page.Height
            );
            var cross = Bench
                .Paths(page)
                .Where(p => p.Corners.Count == 2 && Math.Abs(p.Width - 12) < 0.01 && p.Height < 0.01)
                .MinBy(p =>
                    Math.Abs(p.Left + 6 - (TilePage.Left + mark.X - tile.Left)) + Math.Abs(p.Top - (TilePage.Top + tile.Top - mark.Y))
                )!;
            points.AddRange(
                Bench
                    .Paths(page)
                    .Where(p => p.Corners.Count > 8)
                    .SelectMany(p => p.Corners)
                    .Select(c => (c.X - (cross.Left + 6) + mark.X, mark.Y - (c.Y - cross.Top)))
            );
        }

        foreach (var true_ in SampleSheets.Bench.Curve.Points.Where((_, i) => i is < 93 or > 100))
        {
            var nearest = points.Min(p => Math.Sqrt(Math.Pow(p.X - true_.X, 2) + Math.Pow(p.Y - true_.Y, 2)));
            Assert.True(nearest < 0.2, $"the point ({true_.X:F1}, {true_.Y:F1}) is {nearest:F2} mm away");
        }
    }

    [Fact]
    public void Pages_that_overlap_share_their_marks()
    {
        // Two marks on each seam, each on both pages.
        for (var page = 1; page < Bench.Pages - 1; page++)
        {
            double[] Crosses(int p) =>
                [
                    .. Bench
                        .Paths(p)
                        .Where(c => c.Corners.Count == 2 && Math.Abs(c.Width - 12) < 0.01 && c.Height < 0.01)
                        .Select(c => Math.Round(c.Top, 2))
                        .Distinct()
                        .Order(),
                ];
            Assert.Equal(2, Crosses(page).Length);
            Assert.Equal(Crosses(page), Crosses(page + 1));
        }
    }

    [Fact]
    public void The_pages_are_a4_and_ask_not_to_be_shrunk()
    {
        for (var page = 0; page < Bench.Pages; page++)
        {
            var (width, height) = Bench.Size(page);
            Assert.Equal(210, Math.Min(width, height), 0.1);
            Assert.Equal(297, Math.Max(width, height), 0.1);
        }
        Assert.Equal(
            "/None",
            Bench.Document.Internals.Catalog.Elements.GetDictionary("/ViewerPreferences")!.Elements.GetName("/PrintScaling")
        );
    }

    [Fact]
    public void It_takes_as_few_pages_as_it_can()
    {
        Assert.Equal(3, Plan.Tiles.Count);
        Assert.Single(TilePlan.Plan([new(-100, -60), new(0, 0), new(100, -60)]).Tiles);
        Assert.Equal(TilePage.Landscape, TilePlan.Plan([new(-120, -100), new(0, 0), new(120, -100)]).Page);
    }

    [Fact]
    public void A_depth_line_lies_its_depth_below_the_midline_point()
    {
        var levels = Bench
            .Paths(2)
            .Where(p => p.Corners.Count == 2 && p.Height < 0.01 && p.Width > 300)
            .Select(p => p.Top)
            .Order()
            .ToList();

        Assert.Equal(5, levels.Count);
        Assert.Equal([30, 60, 100, 150], levels.Skip(1).Select(l => Math.Round(l - levels[0], 2)));
    }

    [Fact]
    public void A_house_is_no_back() =>
        Assert.Throws<NotDrawableException>(() =>
            BenchTemplate.Write(SampleSheets.Bench with { Curve = new("now", [new(-2000, 0), new(2000, 0)]) })
        );
}

public class TracingSheetTests
{
    [Theory]
    [InlineData(TracingPaper.A4, 297, 210)]
    [InlineData(TracingPaper.A3, 420, 297)]
    [InlineData(TracingPaper.A2, 594, 420)]
    public void The_four_marks_lie_where_the_geometry_says(TracingPaper paper, double width, double height)
    {
        var sheet = new PdfDrawing(TracingSheet.Write(SampleSheets.Head, paper));
        var geometry = TracingSheetGeometry.For(paper);
        PlanePoint[] corners = [geometry.UpperLeft, geometry.UpperRight, geometry.LowerRight, geometry.LowerLeft];
        var squares = sheet.Paths(0).Where(p => p.Filled && p.Corners.Count == 4).ToList();
        int Around(PlanePoint corner, double edge) =>
            squares.Count(s =>
                Math.Abs(s.Width - edge) < 0.05
                && Math.Abs(s.Height - edge) < 0.05
                && Math.Abs((s.Left + s.Right) / 2 - corner.X) < 0.05
                && Math.Abs((s.Top + s.Bottom) / 2 - corner.Y) < 0.05
            );

        Assert.Equal(width, sheet.Size(0).Width, 0.1);
        Assert.Equal(height, sheet.Size(0).Height, 0.1);
        Assert.All(corners, c => Assert.Equal(1, Around(c, TracingSheetGeometry.MarkSize)));
        Assert.All(corners, c => Assert.Equal(1, Around(c, TracingSheetGeometry.WhiteSize)));
        Assert.Equal([0, 1, 1, 1], corners.Select(c => Around(c, TracingSheetGeometry.CoreSize)));
    }

    [Fact]
    public void The_midline_point_is_ringed_where_the_geometry_says()
    {
        var geometry = TracingSheetGeometry.For(TracingPaper.A3);
        var rings = new PdfDrawing(TracingSheet.Write(SampleSheets.Head, TracingPaper.A3))
            .Paths(0)
            .Where(p => !p.Filled && Math.Abs(p.Width - 5) < 0.05 && Math.Abs(p.Height - 5) < 0.05);

        var ring = Assert.Single(rings);
        Assert.Equal(geometry.Midline.X, (ring.Left + ring.Right) / 2, 0.05);
        Assert.Equal(geometry.Midline.Y, (ring.Top + ring.Bottom) / 2, 0.05);
    }
}

public class ReportSheetTests
{
    public static TheoryData<string> Names => [.. Gallery.Sheets.Select(s => s.Name)];

    [Theory, MemberData(nameof(Names))]
    public void Every_sheet_embeds_the_fonts_of_the_charts(string name)
    {
        var document = new PdfDrawing(Gallery.Sheets.Single(s => s.Name == name).Pdf).Document;
        var fonts = document
            .Internals.GetAllObjects()
            .OfType<PdfSharp.Pdf.PdfDictionary>()
            .Select(d => d.Elements.GetName("/BaseFont"))
            .Where(n => n.Length > 0)
            .ToList();

        Assert.NotEmpty(fonts);
        Assert.All(
            fonts,
            f => Assert.Contains("OpenSans", f.Replace(" ", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase)
        );
        Assert.Contains(document.Internals.GetAllObjects().OfType<PdfSharp.Pdf.PdfDictionary>(), d => d.Elements.ContainsKey("/FontFile2"));
    }

    [Fact]
    public void The_setting_sheet_fits_the_bench_on_one_page() =>
        Assert.Equal(1, new PdfDrawing(SettingSheet.Write(SampleSheets.Setting)).Pages);

    [Fact]
    public void What_comes_before_a_proposal_stands_above_everything_else_on_the_setting_sheet()
    {
        var plain = SampleSheets.Setting;
        var caution = plain with { First = ["To the vet first, before the saddle is changed. The left side lost muscle."] };

        Assert.InRange(Box(caution), 0, Box(plain) - 20);

        // The uppermost bar of a caution: before any refit there is one all the same, at the foot of the sheet.
        static double Box(SettingSheetInput input) =>
            new PdfDrawing(SettingSheet.Write(input))
                .Paths(0)
                .Where(p => p is { Filled: true, Height: > 5 } && p.Width is > 1 and < 1.5)
                .Min(p => p.Top);
    }

    [Fact]
    public void Sixteen_sheets_printed_at_once_come_out_whole()
    {
        var pages = new int[16];

        Parallel.For(
            0,
            pages.Length,
            i =>
                pages[i] = new PdfDrawing(
                    i % 2 == 0 ? SettingSheet.Write(SampleSheets.Setting) : BenchTemplate.Write(SampleSheets.Bench)
                ).Pages
        );

        Assert.Equal(Enumerable.Range(0, 16).Select(i => i % 2 == 0 ? 1 : 4), pages);
    }

    [Fact]
    public void A_long_table_goes_on_on_the_next_page()
    {
        var rows = Enumerable.Range(1, 120).Select(i => new ChangeRow($"Measure {i}", "mid-back", "1", "2", "+1", "3", "moving")).ToList();
        var report = new PdfDrawing(
            ComparisonReport.Write(SampleSheets.Comparison with { Changes = rows, Trends = [], Sections = [], Topline = null })
        );

        Assert.InRange(report.Pages, 3, 8);
    }

    [Fact]
    public void A_sheet_speaks_the_readers_language()
    {
        var german = SampleSheets.Setting with { Head = SampleSheets.Head with { Language = ReportLanguage.For("de") } };

        Assert.Equal("Einstellblatt, Juniper", new PdfDrawing(SettingSheet.Write(german)).Document.Info.Title);
        Assert.Equal("de", new PdfDrawing(SettingSheet.Write(german)).Document.Language);
    }

    [Fact]
    public void Hostile_names_and_other_cultures_do_not_break_a_sheet()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            var head = SampleSheets.Head with { HorseName = "(\\)\u0000🐴 馬 " + new string('x', 300), PracticeName = "" };
            Assert.Equal(1, new PdfDrawing(TracingSheet.Write(head, TracingPaper.A4)).Pages);
            var bench = new PdfDrawing(BenchTemplate.Write(SampleSheets.Bench with { Head = head }));
            Assert.Contains(bench.Paths(0), p => p.Corners.Count == 4 && Math.Abs(p.Width - 100) < 0.05 && Math.Abs(p.Height - 100) < 0.05);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
