namespace BackHistory.Trends.SinceFit;

/// <summary>In what lengths and areas are said to people. Everything is computed and kept in millimetres and square centimetres.</summary>
public enum LengthUnit
{
    Millimetres,
    Inches,
}
