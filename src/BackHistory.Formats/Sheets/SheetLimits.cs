namespace BackHistory.Formats.Sheets;

/// <summary>How much a spreadsheet may hold.</summary>
public static class SheetLimits
{
    public const int MostRows = 50_000;

    public const int MostColumns = 200;

    public const int LongestCell = 4000;

    /// <summary>A workbook of that many rows unpacks to less; a bomb unpacks to more.</summary>
    public const long MostUnpacked = 200L << 20;
}
