namespace BackHistory.Shape.Gauges;

/// <summary>A value on a gauge: its place between the marks, the nearest mark, and what is left over.</summary>
/// <param name="Position">on the workshop's scale</param>
/// <param name="Value">in the unit of the gauge</param>
/// <param name="RemainderMarks">position less the nearest mark's</param>
/// <param name="Remainder">value less the nearest mark's, in the unit of the gauge</param>
public sealed record GaugeReading(double Position, double Value, GaugeMark Nearest, double RemainderMarks, double Remainder);
