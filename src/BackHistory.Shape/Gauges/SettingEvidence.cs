namespace BackHistory.Shape.Gauges;

/// <summary>
/// The measures of one visit that a setting hangs on: one cross-section, usually `behind-shoulder`, and the topline where there is one.
/// Standard deviations should hold repeatability as well as the noise of the tracing.
/// </summary>
public sealed record SettingEvidence(IReadOnlyList<Measure> Section, IReadOnlyList<Measure> Topline);
