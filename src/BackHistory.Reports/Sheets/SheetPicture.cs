using BackHistory.Reports.Sheets.Drawing;
using PdfSharp.Pdf;

namespace BackHistory.Reports.Sheets;

/// <summary>A picture at the head of papers.</summary>
public static class SheetPicture
{
    /// <summary>Whether it comes out on a paper: tried once, before it is kept.</summary>
    /// <param name="picture">PNG or JPEG, within the limits of its sender.</param>
    public static bool CanBeDrawn(byte[] picture)
    {
        try
        {
            using var document = new PdfDocument();
            using (var pen = new SheetPen(document.AddPage(), SheetDocument.A4Short, SheetDocument.A4Long))
                pen.Image(picture, 0, 0, 10, 10);
            using var stream = new MemoryStream();
            document.Save(stream, closeStream: false);
            return true;
        }
        catch (Exception e) when (e is not (OutOfMemoryException or OperationCanceledException))
        {
            // Whatever the library makes of it: a paper with it could not be written.
            return false;
        }
    }
}
