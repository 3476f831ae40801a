using BackHistory.Reports.Charts.Content;

namespace BackHistory.Application.Trends;

/// <summary>A horse's condition on one time axis, with what explains a change.</summary>
public sealed record ConditionAnswer(
    Guid HorseId,
    IReadOnlyList<ConditionSeries> Series,
    IReadOnlyList<SidesParting> Sides,
    IReadOnlyList<HorseSpan> Spans,
    IReadOnlyList<SaddleMark> SaddleWork,
    IReadOnlyList<string> Says
);
