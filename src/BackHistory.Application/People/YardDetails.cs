using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.People;

/// <summary>What the practice knows of a place where horses stand, as somebody enters it.</summary>
/// <param name="Address">Street and number, or how it is found.</param>
/// <param name="Latitude">Degrees north; with <paramref name="Longitude"/> or not at all.</param>
/// <param name="Longitude">Degrees east.</param>
public sealed record YardDetails(string Name, string? Town, string? Address = null, double? Latitude = null, double? Longitude = null)
{
    private const int LongestName = 120;
    private const int LongestTown = 120;
    private const int LongestAddress = 300;

    /// <summary>Why it cannot be kept; null when it can.</summary>
    internal Refused? Problem() =>
        ReadableName.IsMissing(Name) || Name.Length > LongestName
            ? new Refused("no-name", "A yard needs a name of up to 120 letters.", Place: "name")
        : Town?.Length > LongestTown ? new Refused("long-town", $"A town has up to {LongestTown} letters.", Place: "town")
        : Address?.Length > LongestAddress
            ? new Refused("long-address", $"An address has up to {LongestAddress} letters.", Place: "address")
        : (Latitude is null) != (Longitude is null)
            ? new Refused(
                "half-a-place",
                "A place is two numbers, latitude and longitude: give both, or neither.",
                Place: Latitude is null ? "latitude" : "longitude"
            )
        : Latitude is { } north && !Plausible.Latitude.Holds(north)
            ? new Refused("bad-latitude", $"A latitude is {Plausible.Latitude}, south of the equator negative.", Place: "latitude")
        : Longitude is { } east && !Plausible.Longitude.Holds(east)
            ? new Refused("bad-longitude", $"A longitude is {Plausible.Longitude}, west of Greenwich negative.", Place: "longitude")
        : null;

    /// <summary>It, as it is kept.</summary>
    internal Yard As(Guid id) =>
        new(id, Name.Trim(), Town)
        {
            Address = Address,
            Latitude = Latitude,
            Longitude = Longitude,
        };
}
