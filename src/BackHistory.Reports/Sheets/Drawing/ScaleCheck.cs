using BackHistory.Reports.Charts.Drawing;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>Lengths to lay a ruler on: a print that was shrunk to fit is found before it is used.</summary>
internal static class ScaleCheck
{
    public const double Length = 100;

    /// <summary>A bar of 100 mm from (x, y) to the right, with a tick every 10 mm and its sentence.</summary>
    public static void Bar(SheetPen pen, double x, double y, ReportLanguage language)
    {
        pen.Line(x, y, x + Length, y, 0.3);
        for (var i = 0; i <= 10; i++)
            pen.Line(x + 10 * i, y - (i % 10 == 0 ? 2.5 : 1.2), x + 10 * i, y + (i % 10 == 0 ? 2.5 : 0), 0.25);
        pen.Text(language["scale-check.100-mm-lay-a"], x + Length + 3, y + 1.2, 8, colour: SheetPen.Muted);
    }

    /// <summary>A square of 100 mm with its upper left corner at (x, y).</summary>
    public static void Square(SheetPen pen, double x, double y, ReportLanguage language)
    {
        pen.Frame(x, y, Length, Length, 0.3);
        pen.Text("100 mm", x + Length / 2, y - 1.5, 9, align: Align.Middle);
        pen.Text("100 mm", x + Length + 2, y + Length / 2, 9);
        var lines = SheetPen.Wrap(language["scale-check.print-at-actual-size"], Length - 14, 10);
        for (var i = 0; i < lines.Count; i++)
            pen.Text(lines[i], x + 7, y + 38 + i * 5.5, 10);
    }
}
