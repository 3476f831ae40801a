using BackHistory.Reports.Sheets;
using BackHistory.Reports.Sheets.Content;
using PdfSharp.Pdf;

namespace BackHistory.Reports.Tests.Sheets;

/// <summary>Papers say how the practice is reached, under its picture.</summary>
public class ContactTests
{
    static readonly byte[] Picture = Convert.FromBase64String(
        "iVBORw0KGgoAAAANSUhEUgAAADwAAAAeCAIAAAD/+uoYAAAAM0lEQVR42u3OQQkAAAgEsEtqa/tcCh/CYAGWnbwTaW"
            + "lpaWlpaWlpaWlpaWlpaWlpaekrBRLubxE2tObXAAAAAElFTkSuQmCC"
    );

    static readonly SheetHead Reached = SampleSheets.Head with
    {
        Contact = "12 Ford Lane, Aston · 01234 567890 · office@ford.invalid",
        Mark = new SheetMark(Picture, 60, 30),
    };

    [Fact]
    public void Every_page_of_a_report_has_the_picture_at_its_head()
    {
        var plain = new PdfDrawing(ComparisonReport.Write(SampleSheets.Comparison));
        var reached = new PdfDrawing(ComparisonReport.Write(SampleSheets.Comparison with { Head = Reached }));

        Assert.Equal(plain.Pages, reached.Pages);
        for (var page = 0; page < plain.Pages; page++)
            Assert.Equal(Images(plain, page) + 1, Images(reached, page));
    }

    [Fact]
    public void The_full_size_template_stays_in_its_place_under_the_picture()
    {
        var plain = new PdfDrawing(BenchTemplate.Write(SampleSheets.Bench));
        var reached = new PdfDrawing(BenchTemplate.Write(SampleSheets.Bench with { Head = Reached }));

        Assert.Equal(Images(plain, 0) + 1, Images(reached, 0));
        for (var page = 1; page < plain.Pages; page++)
            Assert.Equal(plain.Paths(page).SelectMany(p => p.Corners).ToList(), reached.Paths(page).SelectMany(p => p.Corners).ToList());
    }

    [Fact]
    public void What_is_no_picture_is_known_before_a_paper_needs_it()
    {
        Assert.True(SheetPicture.CanBeDrawn(Picture));
        Assert.False(SheetPicture.CanBeDrawn([1, 2, 3]));
    }

    static int Images(PdfDrawing pdf, int page) =>
        pdf.Document.Pages[page]
            .Resources.Elements.GetDictionary("/XObject")
            ?.Elements.Values.Select(v => v is PdfSharp.Pdf.Advanced.PdfReference r ? r.Value as PdfDictionary : v as PdfDictionary)
            .Count(d => d?.Elements.GetName("/Subtype") == "/Image")
        ?? 0;
}
