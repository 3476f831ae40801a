using System.Globalization;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace BackHistory.Formats.Sheets;

/// <summary>Which styles of a workbook show a number as a date (ECMA-376 part 1, 18.8.30).</summary>
internal static class XlsxDates
{
    public static HashSet<uint> Styles(WorkbookPart parts)
    {
        var dates = new HashSet<uint>();
        if (parts.WorkbookStylesPart?.Stylesheet is not { CellFormats: { } formats } sheet)
            return dates;
        var own =
            sheet
                .NumberingFormats?.Elements<NumberingFormat>()
                .Where(f => f.NumberFormatId is not null && IsDate(f.FormatCode?.Value ?? ""))
                .Select(f => f.NumberFormatId!.Value)
                .ToHashSet()
            ?? [];
        foreach (var (index, format) in formats.Elements<CellFormat>().Index())
        {
            var id = format.NumberFormatId?.Value ?? 0;
            if (id is (>= 14 and <= 17) or 22 || own.Contains(id))
                dates.Add((uint)index);
        }

        return dates;
    }

    /// <summary>The day that a number of a workbook is; null where it is none of any calendar.</summary>
    /// <param name="serial">Days since 1899-12-30.</param>
    public static string? Text(double serial) =>
        serial is >= 1 and < 2_958_466
            ? new DateTime(1899, 12, 30, 0, 0, 0, DateTimeKind.Unspecified)
                .AddDays(serial)
                .ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
            : null;

    /// <summary>A format with a year or a day in it, outside of quoted words, escapes and colours.</summary>
    private static bool IsDate(string code)
    {
        var quoted = false;
        for (var i = 0; i < code.Length; i++)
        {
            if (code[i] == '"')
                quoted = !quoted;
            else if (quoted)
                continue;
            else if (code[i] == '\\')
                i++;
            else if (code[i] == '[')
                i = Math.Max(i, code.IndexOf(']', i));
            else if (code[i] is 'y' or 'Y' or 'd' or 'D')
                return true;
        }

        return false;
    }
}
