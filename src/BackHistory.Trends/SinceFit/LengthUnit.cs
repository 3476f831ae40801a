namespace BackHistory.Trends.SinceFit;

/// <summary>In what lengths and areas are said to people. Everything is computed and kept in millimetres and square centimetres.</summary>
public enum LengthUnit
{
    Millimetres,
    Inches,
}

/// <summary>The international inch, exactly (international yard and pound agreement, 1959).</summary>
public static class Inch
{
    public const double Millimetres = 25.4;
}
