namespace BackHistory.Shape;

/// <summary>Lengths that a tracing may be given in. The inch is 25.4 mm exactly (international yard and pound agreement, 1959).</summary>
public static class Units
{
    public const double MillimetresPerInch = 25.4;

    public static double? MillimetresPer(string unit) =>
        unit switch
        {
            "mm" => 1.0,
            "cm" => 10.0,
            "in" => MillimetresPerInch,
            _ => null,
        };
}
