using BackHistory.Reports.Charts.Content;

namespace BackHistory.Application.Trends;

/// <summary>A cross-section as it is drawn, under the day on which it was traced.</summary>
/// <param name="AtFit">Whether it is the back that the saddle was set to.</param>
public sealed record TracedSection(SectionCurve Curve, bool AtFit);
