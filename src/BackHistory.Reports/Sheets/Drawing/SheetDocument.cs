using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Sheets.Content;
using PdfSharp.Pdf;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>A PDF in the making.</summary>
internal sealed class SheetDocument : IDisposable
{
    public const double A4Short = 210;
    public const double A4Long = 297;

    readonly PdfDocument document = new();

    public SheetDocument(string title, SheetHead head)
    {
        document.Info.Title = Printable.Clean(title);
        document.Info.Author = Printable.Clean(head.PracticeName);
        document.Info.Creator = "BackHistory";
        // The sheet's own date, so that the clock of the machine stays out of it.
        document.Info.CreationDate = head.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        document.Language = head.Language.Tag;
        // Asks the viewer not to shrink the page: lengths must come out as drawn.
        document.ViewerPreferences.Elements.SetName("/PrintScaling", "/None");
    }

    public int Pages => document.PageCount;

    public SheetPen Page(double width, double height) => new(document.AddPage(), width, height);

    public byte[] Save()
    {
        using var stream = new MemoryStream();
        document.Save(stream, closeStream: false);
        return stream.ToArray();
    }

    public void Dispose() => document.Dispose();
}
