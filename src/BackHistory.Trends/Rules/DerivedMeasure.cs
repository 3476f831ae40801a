namespace BackHistory.Trends.Rules;

/// <summary>A measure that is worked out from others of the same station.</summary>
public sealed record DerivedMeasure(string Measure, IReadOnlyList<string> Parts);
