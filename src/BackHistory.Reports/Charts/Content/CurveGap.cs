namespace BackHistory.Reports.Charts.Content;

/// <summary>A piece of a contour that was not traced: the chart leaves it open and says so. Ends in mm.</summary>
public sealed record CurveGap(PlanePoint From, PlanePoint To);
