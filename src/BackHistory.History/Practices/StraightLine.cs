namespace BackHistory.History.Practices;

/// <summary>How far two places lie apart as the crow flies; roads are longer.</summary>
public static class StraightLine
{
    /// <summary>Mean radius of the Earth in kilometres: (2a + b)/3 of the WGS 84 ellipsoid (a = 6378.137, b = 6356.752; from
    /// memory).</summary>
    public const double EarthRadiusKm = 6371.0088;

    /// <summary>The great-circle distance on the mean sphere, by the haversine formula (R. W. Sinnott, "Virtues of the Haversine", Sky and
    /// Telescope 68, 1984; from memory). Against the ellipsoid it errs by up to 0.6 %.</summary>
    /// <returns>Kilometres.</returns>
    public static double Km(double fromLatitude, double fromLongitude, double toLatitude, double toLongitude)
    {
        var (north, east) = (double.DegreesToRadians(toLatitude - fromLatitude), double.DegreesToRadians(toLongitude - fromLongitude));
        var h =
            Math.Pow(Math.Sin(north / 2), 2)
            + Math.Cos(double.DegreesToRadians(fromLatitude))
                * Math.Cos(double.DegreesToRadians(toLatitude))
                * Math.Pow(Math.Sin(east / 2), 2);
        return 2 * EarthRadiusKm * Math.Asin(Math.Sqrt(Math.Clamp(h, 0, 1)));
    }

    /// <summary>Between two yards; null where the place of either is not known.</summary>
    public static double? Km(Yard? from, Yard? to) =>
        from is { Latitude: { } a, Longitude: { } b } && to is { Latitude: { } c, Longitude: { } d } ? Km(a, b, c, d) : null;
}
