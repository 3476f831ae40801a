namespace BackHistory.History.Reminders;

/// <summary>One measure of the evidence: where it was at the fit, where it is, and the change from which the practice acts.</summary>
/// <param name="Sd">Standard deviation of the change, like all numbers here in <paramref name="Unit"/>.</param>
public sealed record EvidenceNumber(
    string Measure,
    string? Station,
    string Unit,
    double? AtFit,
    double? AtFitSd,
    double? Now,
    double? NowSd,
    double? Change,
    double? Sd,
    double Threshold,
    double? P
);
