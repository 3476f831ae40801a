namespace BackHistory.Trends.Robust;

/// <summary>Kendall's S against time, its variance under no trend, and the two-sided p (null under four days).</summary>
public sealed record KendallTest(double S, double Variance, double? P);
