using System.Globalization;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Practices;

/// <summary>In what the practice's pages, charts and letters say lengths, areas and heights. Nothing that is stored follows it.</summary>
public sealed record DisplayUnits(LengthUnit Lengths, HeightUnit Heights)
{
    public const int InchesPerHand = 4;

    /// <summary><c>15.2</c>: to the nearest inch.</summary>
    public static string InHands(double millimetres)
    {
        var (hands, inches) = Math.DivRem((int)Math.Round(millimetres / Inch.Millimetres), InchesPerHand);
        return string.Create(CultureInfo.InvariantCulture, $"{hands}.{inches}");
    }

    /// <summary>Fifteen hands and two inches are written 15.2 (common practice, no source). A hand is four inches.</summary>
    /// <param name="written">As it stands there.</param>
    /// <returns>Millimetres; null where more than three inches stand after the point.</returns>
    public static double? FromHands(double written)
    {
        var hands = Math.Floor(written);
        var inches = Math.Round((written - hands) * 10, 6);
        return inches < InchesPerHand ? (hands * InchesPerHand + inches) * Inch.Millimetres : null;
    }

    public static DisplayUnits Metric { get; } = new(LengthUnit.Millimetres, HeightUnit.Centimetres);
}
