namespace BackHistory.Shape.Gauges;

/// <summary>Why a mark cannot follow the one before it on the scale.</summary>
/// <param name="Index">which of the marks, in the order in which they were given</param>
/// <param name="SamePlace">both lie on one place; else the table turns round between them</param>
public sealed record GaugeFault(int Index, GaugeMark Mark, GaugeMark Before, bool SamePlace);
