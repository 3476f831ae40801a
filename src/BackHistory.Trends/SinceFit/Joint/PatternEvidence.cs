using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>A way in which backs change, as the evidence sees it.</summary>
/// <param name="Name">Key of the pattern, with its station where it has one.</param>
/// <param name="Share">Probability that this is what happened, against the other patterns and against no change.</param>
/// <param name="Change">Size in thresholds; the sign is that of the pattern.</param>
/// <param name="Measures">How many watched measures bear on it.</param>
public sealed record PatternEvidence(string Name, string? Station, double Share, Uncertain Change, int Measures);
