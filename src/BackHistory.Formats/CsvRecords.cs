using CsvHelper;

namespace BackHistory.Formats;

/// <summary>The one way in which separated text is read: UTF-8, quoted as RFC 4180 says, empty lines left out, lines counted.</summary>
internal static class CsvRecords
{
    /// <param name="longest">Bytes that a record has at most; one that is longer is no record.</param>
    /// <param name="separator">Found out from the first lines when null: comma, semicolon or tab.</param>
    /// <param name="header">The first line names the columns.</param>
    public static CsvReader Read(ReadOnlyMemory<byte> utf8, int longest, char? separator = null, bool header = true) =>
        CsvReader.Create(
            utf8,
            new CsvReaderOptions
            {
                HasHeader = header,
                Separator = separator,
                MaxRecordSize = longest,
                TrackLineNumbers = true,
                SkipEmptyLines = true,
            }
        );
}
