namespace BackHistory.Trends.Robust;

/// <summary>The plain difference of two visits.</summary>
/// <param name="Change">Later minus earlier (by role, not by date: the visit asked about minus the visit nearest the baseline).</param>
/// <param name="MinimalDetectable">1.96 times the standard deviation of the difference: what two such visits can tell apart 95 times in
/// 100.</param>
public sealed record VisitDifference(double Change, double Sd, double MinimalDetectable, double BaselineDay, double LastDay);
