using BackHistory.Shape.Contours;

namespace BackHistory.Shape.Surfaces;

/// <summary>A cross-section in its place along the back.</summary>
/// <param name="Station">key of the protocol, `behind-shoulder` for instance</param>
/// <param name="FromDatum">millimetres behind the datum (the rear edge of the left shoulder blade), positive towards the tail</param>
public sealed record StationSection(string Station, double FromDatum, Contour Contour);
