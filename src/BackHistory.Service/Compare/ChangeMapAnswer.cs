namespace BackHistory.Service.Compare;

/// <summary>Change of the surface since an earlier visit, millimetres along its normal, positive = more horse.</summary>
public sealed record ChangeMapAnswer(
    Guid Since,
    Guid VisitId,
    double StepMm,
    int Compared,
    double Mean,
    double Rms,
    PlaceAnswer? Gain,
    PlaceAnswer? Loss,
    IReadOnlyList<string> Says
);
