namespace BackHistory.History.Saddles;

/// <param name="Set">Set to the horse; otherwise altered or flocked for it. All are baselines.</param>
/// <param name="Fresh">A new or re-flocked saddle, which settles in the first weeks.</param>
/// <param name="Flocking">With what it was flocked, when that is what was done; of an earlier release it is not known here.</param>
public sealed record SaddleWork(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    Guid By,
    bool Set,
    bool Fresh,
    IReadOnlyList<Adjustment> Done,
    bool Withdrawn = false,
    Flocking? Flocking = null
);
