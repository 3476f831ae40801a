using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Sheets.Content;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>Draws on one page in millimetres from its upper left corner. A millimetre here is a millimetre on paper printed at actual
/// size.</summary>
internal sealed class SheetPen : IDisposable
{
    const double MillimetresPerPoint = 25.4 / 72;

    public static readonly XColor Ink = XColor.FromArgb(0x1D, 0x24, 0x29);
    public static readonly XColor Muted = XColor.FromArgb(0x59, 0x64, 0x6C);
    public static readonly XColor Faint = XColor.FromArgb(0xC9, 0xCF, 0xD3);
    public static readonly XColor Left = Colour("#0072B2");
    public static readonly XColor Right = Colour("#D55E00");

    readonly XGraphics graphics;

    public SheetPen(PdfPage page, double width, double height)
    {
        (page.Width, page.Height) = (XUnit.FromMillimeter(width), XUnit.FromMillimeter(height));
        (Width, Height) = (width, height);
        graphics = XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter);
    }

    public double Width { get; }

    public double Height { get; }

    public static XColor Colour(string hex) =>
        XColor.FromArgb(Convert.ToInt32(hex[1..3], 16), Convert.ToInt32(hex[3..5], 16), Convert.ToInt32(hex[5..7], 16));

    /// <param name="points">Size of the type in points.</param>
    public void Text(
        string text,
        double x,
        double baseline,
        double points = 10,
        bool bold = false,
        XColor? colour = null,
        Align align = Align.Start
    )
    {
        var clean = Printable.Clean(text);
        if (clean.Length == 0)
            return;
        var font = SheetFonts.Font(points * MillimetresPerPoint, bold);
        var width = align == Align.Start ? 0 : graphics.MeasureString(clean, font).Width;
        graphics.DrawString(clean, font, new XSolidBrush(colour ?? Ink), x - (align == Align.Middle ? width / 2 : width), baseline);
    }

    /// <summary>Millimetres.</summary>
    public static double WidthOf(string text, double points, bool bold = false) =>
        Lettering.Width(Printable.Clean(text), (float)(points * MillimetresPerPoint), bold ? Fonts.Weight.Semibold : Fonts.Weight.Regular);

    public static IReadOnlyList<string> Wrap(string text, double width, double points, bool bold = false) =>
        Lettering.Wrap(text, (float)width, (float)(points * MillimetresPerPoint), bold ? Fonts.Weight.Semibold : Fonts.Weight.Regular);

    public void Line(double x1, double y1, double x2, double y2, double width = 0.2, XColor? colour = null, double[]? dash = null) =>
        graphics.DrawLine(Pen(width, colour, dash), x1, y1, x2, y2);

    public void Curve(IEnumerable<XPoint> points, double width, XColor colour, double[]? dash = null)
    {
        var all = points.ToArray();
        if (all.Length > 1)
            graphics.DrawLines(Pen(width, colour, dash), all);
    }

    public void Frame(double x, double y, double width, double height, double line = 0.2, XColor? colour = null) =>
        graphics.DrawRectangle(Pen(line, colour, null), x, y, width, height);

    public void Fill(double x, double y, double width, double height, XColor colour) =>
        graphics.DrawRectangle(new XSolidBrush(colour), x, y, width, height);

    public void Ring(double x, double y, double radius, double line, XColor colour) =>
        graphics.DrawEllipse(Pen(line, colour, null), x - radius, y - radius, 2 * radius, 2 * radius);

    public void Image(byte[] png, double x, double y, double width, double height)
    {
        using var stream = new MemoryStream(png);
        using var image = XImage.FromStream(stream);
        graphics.DrawImage(image, x, y, width, height);
    }

    /// <summary>The practice's picture, so high and no wider than a third of the paper.</summary>
    /// <returns>Its width, millimetres.</returns>
    public double Mark(SheetMark mark, double x, double y, double height)
    {
        var scale = Math.Min(height / mark.Height, Width / 3 / mark.Width);
        Image(mark.Bytes, x, y + (height - mark.Height * scale), mark.Width * scale, mark.Height * scale);
        return mark.Width * scale;
    }

    /// <summary>How the practice is reached, in one line that is no wider than it may be.</summary>
    public void Contact(SheetHead head, double x, double baseline, double width)
    {
        if (head.Contact.Length == 0)
            return;
        var line = $"{head.PracticeName} · {head.Contact}";
        var points = 8 * Math.Min(1, width / WidthOf(line, 8));
        Text(line, x, baseline, points, colour: Muted);
    }

    /// <summary>Draws what <paramref name="draw"/> draws, cut at the window's edges.</summary>
    public void Inside(double x, double y, double width, double height, Action draw)
    {
        var state = graphics.Save();
        graphics.IntersectClip(new XRect(x, y, width, height));
        draw();
        graphics.Restore(state);
    }

    static XPen Pen(double width, XColor? colour, double[]? dash)
    {
        var pen = new XPen(colour ?? Ink, width) { LineJoin = XLineJoin.Round };
        // Lengths of a dash count in widths of the line.
        if (dash is not null)
            pen.DashPattern = [.. dash.Select(d => d / width)];
        return pen;
    }

    public void Dispose() => graphics.Dispose();
}
