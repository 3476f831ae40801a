namespace BackHistory.Reports.Charts.Content;

/// <summary>A time that explains a change.</summary>
/// <remarks><c>To</c> is the last day; null = still going on.</remarks>
public sealed record HorseSpan(DateOnly From, DateOnly? To, SpanKind Kind, string Label);
