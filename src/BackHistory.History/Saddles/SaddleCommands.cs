namespace BackHistory.History.Saddles;

public sealed record SaddleDetails(string Label, string? Tree, string? Panel, string? Girthing, string? Gauge);

public sealed record RegisterSaddle(Guid SaddleId, SaddleDetails Details, Guid? OwnerId, DateTimeOffset TakenAt, Guid By);

public sealed record CorrectSaddle(SaddleDetails Details, string Reason, Guid By);

public sealed record WithdrawSaddle(string Reason, Guid By);

public sealed record ChangeSaddleOwner(Guid? OwnerId, DateTimeOffset From, Guid By);

public sealed record ListParts(IReadOnlyList<SaddlePart> Parts, DateTimeOffset From, Guid By);

/// <param name="Fresh">New, or re-flocked: it settles in the first weeks.</param>
/// <param name="Flocking">With what it was flocked, when that is what was done.</param>
/// <param name="OnBoth">It stays in use on the other horse, where it is on one.</param>
public sealed record RecordWork(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    bool Set,
    bool Fresh,
    IReadOnlyList<Adjustment> Done,
    DateTimeOffset TakenAt,
    Guid By,
    Flocking? Flocking = null,
    bool OnBoth = false
);

public sealed record Flocking(string Material, bool Whole);

/// <param name="Replacement">The work as it really was; its id is new.</param>
public sealed record CorrectWork(Guid WorkId, RecordWork Replacement, string Reason, Guid By);

public sealed record WithdrawWork(Guid WorkId, string Reason, Guid By);

/// <param name="At">Now, where nothing is said.</param>
public sealed record TakeOff(Guid HorseId, string Reason, Guid By, DateTimeOffset? At = null);

public sealed record MoveSaddle(Guid FromHorseId, Guid HorseId, string? Reason, DateTimeOffset TakenAt, Guid By);

/// <param name="OnBoth">Another horse goes on trying it.</param>
public sealed record BeginTrial(Guid TrialId, Guid HorseId, DateOnly? Until, DateTimeOffset TakenAt, Guid By, bool OnBoth = false);

public sealed record EndTrial(Guid TrialId, bool Kept, string? Reason, DateTimeOffset TakenAt, Guid By);

/// <summary>The saddle leaves the practice's care.</summary>
/// <param name="BuyerId">Null where the practice does not know them.</param>
public sealed record SellSaddle(Guid? BuyerId, string? Note, DateTimeOffset TakenAt, Guid By);

public sealed record FitPad(Guid PadId, Guid HorseId, string Pad, IReadOnlyList<Shim> Shims, DateTimeOffset TakenAt, Guid By);

public sealed record RemovePad(Guid PadId, string Reason, DateTimeOffset TakenAt, Guid By);

/// <summary>The horse it was used on was registered twice: what stands for the one registration goes on for the other.</summary>
public sealed record FollowMerge(Guid FromHorseId, Guid HorseId, string Reason, Guid By);
