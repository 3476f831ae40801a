namespace BackHistory.Shape.Gauges;

/// <summary>One mark of a workshop's gauge: its name as engraved, its place on the workshop's own scale, and what it means.</summary>
/// <param name="Name">`4`, `4½`, `M`, …</param>
/// <param name="Position">on the workshop's scale; marks without numbers count 0, 1, 2, …</param>
/// <param name="Value">degrees or millimetres, as the gauge says</param>
public sealed record GaugeMark(string Name, double Position, double Value);
