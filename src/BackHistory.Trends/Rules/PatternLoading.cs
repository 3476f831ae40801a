namespace BackHistory.Trends.Rules;

/// <summary>How a measure moves when the pattern happens.</summary>
/// <param name="Measure">Key of the measure, or the part before <c>@</c> for all of that family.</param>
/// <param name="Loading">Its change in thresholds when the pattern's size is 1; the sign tells the direction.</param>
public sealed record PatternLoading(string Measure, double Loading);
