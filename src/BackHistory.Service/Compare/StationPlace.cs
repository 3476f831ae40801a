namespace BackHistory.Service.Compare;

/// <param name="FromDatum">Millimetres towards the tail.</param>
public sealed record StationPlace(string Station, double FromDatum);
