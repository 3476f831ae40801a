namespace BackHistory.Application.Trends;

/// <summary>Whether left and right have parted company at a station, and since when.</summary>
public sealed record SidesParting(string Measure, string Station, string Unit, BackHistory.Trends.SinceFit.Parting Parting, string Says);
