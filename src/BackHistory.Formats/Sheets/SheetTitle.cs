namespace BackHistory.Formats.Sheets;

/// <summary>A line above the header that names no column, and was passed over.</summary>
/// <param name="Line">As the spreadsheet counts its lines, from 1.</param>
public sealed record SheetTitle(int Line, string Text);
