namespace BackHistory.Trends.Rules;

/// <summary>The noise of one measure as repeats have shown it, in the unit of its <see cref="NoiseRule"/>: per cent of the value where
/// the rule is.</summary>
/// <param name="Station">With <paramref name="Method"/> and <paramref name="By"/>: repeats of this person there by this method. All three
/// null: the practice's pool.</param>
public sealed record MeasureNoise(string Measure, string? Station, string? Method, string? By, NoiseStudy Study);
