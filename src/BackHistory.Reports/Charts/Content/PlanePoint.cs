namespace BackHistory.Reports.Charts.Content;

/// <summary>A point of a curve in its plane, in mm; the first coordinate to the right or towards the tail, the second up.</summary>
public readonly record struct PlanePoint(double X, double Y);
