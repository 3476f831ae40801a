namespace BackHistory.Reports.Charts.Content;

/// <param name="At">On the topline, mm.</param>
public sealed record StationMark(string Name, PlanePoint At);
