using BackHistory.Shape;

namespace BackHistory.Service.Compare;

/// <summary>The lofted back of a visit.</summary>
/// <param name="Assumed">Some station's place along the back was not measured at this visit and is the protocol's or a rule of
/// thumb.</param>
/// <param name="Fault">Why there is no surface.</param>
public sealed record SurfaceAnswer(
    Guid VisitId,
    IReadOnlyList<StationPlace> Stations,
    bool Assumed,
    double? From,
    double? To,
    IReadOnlyList<Measure> HalfVolumes,
    string? Fault
);
