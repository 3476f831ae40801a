namespace BackHistory.Trends.SinceFit;

/// <summary>The international inch, exactly (international yard and pound agreement, 1959).</summary>
public static class Inch
{
    public const double Millimetres = 25.4;
}
