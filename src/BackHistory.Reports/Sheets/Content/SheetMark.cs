namespace BackHistory.Reports.Sheets.Content;

/// <summary>The practice's own picture at the head of a paper.</summary>
/// <param name="Bytes">PNG or JPEG.</param>
/// <param name="Width">Pixels.</param>
/// <param name="Height">Pixels.</param>
public sealed record SheetMark(byte[] Bytes, int Width, int Height);
