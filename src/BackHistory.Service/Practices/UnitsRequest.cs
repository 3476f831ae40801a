using BackHistory.History.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Practices;

/// <param name="Lengths">millimetres or inches.</param>
/// <param name="Heights">centimetres or hands.</param>
public sealed record UnitsRequest(LengthUnit Lengths, HeightUnit Heights);
