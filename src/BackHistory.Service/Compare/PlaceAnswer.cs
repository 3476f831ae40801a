namespace BackHistory.Service.Compare;

public sealed record PlaceAnswer(double Change, double FromDatum, double DepthBelowMidline, string Words);
