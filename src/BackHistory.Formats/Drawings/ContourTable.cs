using System.Globalization;
using BackHistory.Shape;
using CsvHelper;

namespace BackHistory.Formats.Drawings;

/// <summary>
/// A table of two columns under the header `x_mm,y_mm` (or `_cm`, `_in`), separated by comma, semicolon or tab; points in drawn order.
/// </summary>
internal static class ContourTable
{
    private const int LongestLine = 4096;

    internal static bool Read(ReadOnlyMemory<byte> file, Drawing drawing)
    {
        using var csv = CsvRecords.Read(file, LongestLine);
        var line = new List<Point>();
        try
        {
            csv.ReadHeader();
            if (csv.Headers is { Count: > 0 } headers)
                Read(csv, headers, drawing, line);
        }
        catch (CsvFormatException e)
        {
            throw ImportException.Unreadable($"Line {e.LineNumber} is no line of a table of points.");
        }

        drawing.Add("", line);
        return true;
    }

    private static void Read(CsvReader csv, IReadOnlyList<string> headers, Drawing drawing, List<Point> line)
    {
        if (headers.Count != 2)
            throw Columns(1, headers.Count);
        var scale = Header(headers[0].Trim(), headers[1].Trim());
        while (csv.Read())
        {
            if (csv.FieldCount == 1 && string.IsNullOrWhiteSpace(csv.GetString(0)))
                continue;
            if (csv.FieldCount != 2)
                throw Columns(csv.LineNumber, csv.FieldCount);
            drawing.Count(1);
            line.Add(scale * new Point(Number(csv.GetString(0), csv.LineNumber), Number(csv.GetString(1), csv.LineNumber)));
        }
    }

    private static ImportException Columns(long line, int columns) =>
        ImportException.Unreadable($"Line {line} has {columns} columns; two are needed.");

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

    private static double Number(string cell, long line) =>
        double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw ImportException.Unreadable($"Line {line}: '{Shortened(cell)}' is not a number.");

    private static string Shortened(string cell) => cell.Length <= 20 ? cell.Trim() : cell[..20] + "…";
}
