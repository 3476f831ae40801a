using System.Globalization;
using System.Text;
using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>
/// A table of two columns under the header `x_mm,y_mm` (or `_cm`, `_in`), separated by comma, semicolon or tab; points in drawn order.
/// </summary>
internal static class ContourTable
{
    internal static bool Read(ReadOnlyMemory<byte> file, Drawing drawing)
    {
        using var reader = new StringReader(Encoding.UTF8.GetString(file.Span).TrimStart('\uFEFF'));
        var scale = 0.0;
        var (line, number) = (new List<Point>(), 0);
        while (reader.ReadLine() is { } text)
        {
            number++;
            if (string.IsNullOrWhiteSpace(text))
                continue;
            var cells = text.Split(',', ';', '\t');
            if (cells.Length != 2)
                throw ImportException.Unreadable($"Line {number} has {cells.Length} columns; two are needed.");
            if (scale == 0)
            {
                scale = Header(cells[0].Trim(), cells[1].Trim());
                continue;
            }
            drawing.Count(1);
            line.Add(scale * new Point(Number(cells[0], number), Number(cells[1], number)));
        }
        drawing.Add("", line);
        return true;
    }

    private static double Header(string first, string second)
    {
        if (
            !first.StartsWith("x_", StringComparison.Ordinal)
            || !second.StartsWith("y_", StringComparison.Ordinal)
            || first[2..] != second[2..]
        )
            throw ImportException.Unreadable("The first line must be 'x_mm,y_mm'.");
        return Units.MillimetresPer(first[2..])
            ?? throw new ImportException(Refusal.UnknownUnit, $"The unit '{first[2..]}' is not known: use mm, cm or in.");
    }

    private static double Number(string cell, int line) =>
        double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw ImportException.Unreadable($"Line {line}: '{Shortened(cell)}' is not a number.");

    private static string Shortened(string cell) => cell.Length <= 20 ? cell.Trim() : cell[..20] + "…";
}
