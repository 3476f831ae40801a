namespace BackHistory.Service.Saddles;

/// <param name="Replacement">The work as it really was.</param>
public sealed record WorkCorrectionRequest(WorkRequest Replacement, string Reason);
