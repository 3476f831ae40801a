namespace BackHistory.Reports.Charts.Content;

/// <summary>The trend's level on one day, in the measure's unit; the band is ±1.96 times <paramref name="Sd"/>.</summary>
public sealed record TrendPoint(DateOnly On, double Level, double Sd);
