namespace BackHistory.Service.Practices;

/// <param name="Address">Street and number, or how it is found.</param>
/// <param name="Latitude">Degrees north (WGS 84), with <paramref name="Longitude"/> or not at all.</param>
/// <param name="Longitude">Degrees east (WGS 84).</param>
public sealed record YardRequest(string Name, string? Town, string? Address = null, double? Latitude = null, double? Longitude = null);
