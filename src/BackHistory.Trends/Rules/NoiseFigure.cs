namespace BackHistory.Trends.Rules;

/// <summary>A standard deviation with the degrees of freedom it rests on.</summary>
public sealed record NoiseFigure(double Sd, double Df);
