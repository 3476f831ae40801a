namespace BackHistory.History.Horses;

/// <summary>Weight from girth and length.</summary>
public static class WeightEstimate
{
    /// <summary>The paper's mean divisor; 11 880 is a rounding in common use (Carroll &amp; Huntington 1988, Equine Vet J
    /// 20:41-45).</summary>
    public const double Divisor = 11_900;

    /// <summary>girth² · length / 11 900 in centimetres and kilograms, from millimetres.</summary>
    public static double Kilograms(double girthMm, double lengthMm, double divisor = Divisor)
    {
        var (girth, length) = (girthMm / 10, lengthMm / 10);
        return girth * girth * length / divisor;
    }
}
