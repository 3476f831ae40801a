using CsvHelper;

namespace BackHistory.Formats.Sheets;

/// <summary>A table as comma-separated text (RFC 4180, UTF-8) that no spreadsheet runs as formulas.</summary>
public static class CsvTable
{
    private static readonly CsvWriterOptions Options = new() { Injection = CsvInjection.Escape };

    /// <summary>Writes the header and all rows; leaves the stream open.</summary>
    public static async Task Write(Stream stream, string[] header, IAsyncEnumerable<string[]> rows)
    {
        using var csv = CsvWriter.Create(stream, Options, leaveOpen: true);
        csv.WriteRecord(header);
        await foreach (var row in rows)
            csv.WriteRecord(row);
        csv.Flush();
    }
}
