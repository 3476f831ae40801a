namespace BackHistory.History.Saddles;

/// <param name="Set">Set to the horse; otherwise altered or flocked for it. All are baselines.</param>
/// <param name="Fresh">A new or re-flocked saddle, which settles in the first weeks.</param>
public sealed record SaddleWork(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    Guid By,
    bool Set,
    bool Fresh,
    IReadOnlyList<Adjustment> Done,
    bool Withdrawn = false
);
