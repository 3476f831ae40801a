using System.Globalization;

namespace BackHistory.Service.Components;

/// <summary>A place for whatever program the reader's device shows maps with (RFC 5870).</summary>
internal static class MapLink
{
    public static string Of(double latitude, double longitude) =>
        string.Create(CultureInfo.InvariantCulture, $"geo:{latitude:0.######},{longitude:0.######}");

    public static string Words(double latitude, double longitude) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Math.Abs(latitude):0.####}° {(latitude < 0 ? 'S' : 'N')}, " + $"{Math.Abs(longitude):0.####}° {(longitude < 0 ? 'W' : 'E')}"
        );

    /// <summary>As programs and navigators take it.</summary>
    public static string Plain(double latitude, double longitude) =>
        string.Create(CultureInfo.InvariantCulture, $"{latitude:0.######}, {longitude:0.######}");
}
