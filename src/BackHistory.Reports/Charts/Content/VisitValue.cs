namespace BackHistory.Reports.Charts.Content;

/// <summary>One visit's mean of a measure.</summary>
/// <param name="On">The day, in the practice's time zone.</param>
/// <param name="Value">In the measure's unit.</param>
/// <param name="Sd">Standard deviation of that mean, same unit; drawn as ±1.96 times it.</param>
public sealed record VisitValue(DateOnly On, double Value, double Sd);
