using System.Collections.Immutable;
using System.Globalization;

namespace BackHistory.Shape.Surfaces;

/// <summary>Says where on a back a point lies, as one would to the person beside the horse.</summary>
internal static class PlaceInWords
{
    private const double OnMidlineMillimetres = 10;
    private const double AtStationMillimetres = 15;

    internal static (Side? Side, string Words, string Along) Describe(Point3 at, double depth, ImmutableArray<StationSection> sections)
    {
        Side? side =
            Math.Abs(at.X) < OnMidlineMillimetres ? null
            : at.X < 0 ? Side.Left
            : Side.Right;
        var along = Along(at.Z, sections);
        return (side, Words(side, depth, along, mm => string.Create(CultureInfo.InvariantCulture, $"{mm:0} mm")), along);
    }

    /// <param name="length">Says a length that is given in millimetres.</param>
    internal static string Words(Side? side, double depth, string along, Func<double, string> length) =>
        side is { } s
            ? $"{(s == Side.Left ? "left" : "right")} side, {length(Math.Round(depth / 5) * 5)} below the midline, {along}"
            : $"on the midline, {along}";

    private static string Along(double fromDatum, ImmutableArray<StationSection> sections)
    {
        var nearest = sections.MinBy(s => Math.Abs(s.FromDatum - fromDatum))!;
        if (Math.Abs(nearest.FromDatum - fromDatum) <= AtStationMillimetres)
            return $"at `{nearest.Station}`";
        var behind = 0;
        while (sections[behind].FromDatum < fromDatum)
            behind++;
        return $"between `{sections[behind - 1].Station}` and `{sections[behind].Station}`";
    }
}
