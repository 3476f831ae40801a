namespace BackHistory.History.Saddles;

/// <param name="Kept">Null while the trial runs.</param>
public sealed record SaddleTrial(
    Guid TrialId,
    Guid HorseId,
    DateTimeOffset From,
    DateOnly? Until,
    bool? Kept = null,
    DateTimeOffset? EndedAt = null
);
