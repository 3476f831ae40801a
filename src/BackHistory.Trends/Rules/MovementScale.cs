namespace BackHistory.Trends.Rules;

/// <summary>A pace of change.</summary>
/// <param name="Pace">Standard deviation of the slope, thresholds per day.</param>
/// <param name="Share">How common among horses that move; the shares sum to 1.</param>
/// <param name="Jump">Sd of a sudden change at its beginning, in thresholds: a swelling, a wasting that nobody saw, a baseline that was
/// taken wrong.</param>
public sealed record MovementScale(double Pace, double Share, double Jump = 0);
