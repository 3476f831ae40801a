using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <summary>An event that belongs to one visit.</summary>
public interface IVisitEvent : IHorseEvent
{
    Guid VisitId { get; }
}

/// <summary>An event that enters one thing into a visit.</summary>
public interface IVisitEntryEvent : IVisitEvent
{
    Guid EntryId { get; }
}

/// <summary>The horse was visited, or its owner sent in one set of tracings.</summary>
/// <param name="Method">With what it was traced, for example <c>flexible-curve</c>: a change of method breaks a series.</param>
/// <param name="ProtocolVersion">The version of the practice's protocol that named the stations.</param>
public sealed record VisitRecorded(
    Guid VisitId,
    VisitConditions Conditions,
    string Method,
    int ProtocolVersion,
    DateTimeOffset TakenAt,
    Guid By
) : IVisitEvent;

/// <summary>A visit's day, hands, method and conditions as they stand after a correction.</summary>
public sealed record VisitCorrected(
    Guid VisitId,
    VisitConditions Conditions,
    string Method,
    DateTimeOffset VisitTakenAt,
    Guid TakenBy,
    string Reason,
    DateTimeOffset TakenAt,
    Guid By
) : IVisitEvent;

/// <summary>A visit with all its entries does not stand, for example because another horse was traced.</summary>
public sealed record VisitWithdrawn(Guid VisitId, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

/// <summary>A visit was entered twice: this one no longer stands, and what only it held was entered into the other.</summary>
public sealed record VisitMerged(Guid VisitId, Guid IntoVisitId, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

/// <summary>A cross-section as traced, in millimetres with y up, in traced order.</summary>
/// <param name="Noise">Standard deviation of each coordinate, millimetres.</param>
/// <param name="Calibration">Where it was traced from a picture.</param>
public sealed record CrossSectionTraced(
    Guid VisitId,
    Guid EntryId,
    string Station,
    IReadOnlyList<Point> Points,
    Point? Midline,
    IReadOnlyList<Point>? Level,
    IReadOnlyDictionary<string, Point> Marks,
    double Noise,
    DateTimeOffset TakenAt,
    Guid By,
    Calibration? Calibration = null
) : IVisitEntryEvent;

/// <summary>A topline as traced, in millimetres with v up, towards the tail on the right.</summary>
public sealed record ToplineTraced(
    Guid VisitId,
    Guid EntryId,
    IReadOnlyList<Point> Points,
    IReadOnlyList<Point>? Level,
    IReadOnlyDictionary<string, Point> Marks,
    bool TailLeft,
    double Noise,
    DateTimeOffset TakenAt,
    Guid By,
    Calibration? Calibration = null
) : IVisitEntryEvent;

/// <summary>A number was taken by hand, for example <c>read-slope-left</c> at a station.</summary>
public sealed record ReadingTaken(
    Guid VisitId,
    Guid EntryId,
    string Measure,
    string? Station,
    double Value,
    string Unit,
    DateTimeOffset TakenAt,
    Guid By
) : IVisitEntryEvent;

/// <summary>Body condition was scored, 1 to 9 in half points (Henneke et al. 1983).</summary>
public sealed record ConditionScored(Guid VisitId, Guid EntryId, double Score, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>Muscle was scored at one site on the scale that is named; built in: 1 (no atrophy) to 4 (Herbst et al. 2022).</summary>
public sealed record MuscleScored(Guid VisitId, Guid EntryId, string Site, string Scale, double Score, DateTimeOffset TakenAt, Guid By)
    : IVisitEntryEvent;

/// <summary>The horse stood on a scale.</summary>
public sealed record Weighed(Guid VisitId, Guid EntryId, double Kilograms, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>Girth and length were taken by tape, from which the weight is estimated when it is read.</summary>
public sealed record GirthTaped(Guid VisitId, Guid EntryId, double GirthMm, double LengthMm, DateTimeOffset TakenAt, Guid By)
    : IVisitEntryEvent;

/// <summary>Growth: height was measured at the withers, and at the croup where it was taken too.</summary>
public sealed record HeightMeasured(Guid VisitId, Guid EntryId, int WithersMm, int? CroupMm, DateTimeOffset TakenAt, Guid By)
    : IVisitEntryEvent;

/// <summary>What was found at the visit was written down. The words are a document beside the event, which can be erased.</summary>
public sealed record VisitNoted(Guid VisitId, Guid EntryId, Guid NoteId, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>An entry was wrong and another stands in its place; both stay in the history.</summary>
public sealed record EntryCorrected(Guid VisitId, Guid EntryId, Guid ReplacedBy, string Reason, DateTimeOffset TakenAt, Guid By)
    : IVisitEvent;

/// <summary>An entry does not stand and nothing stands in its place.</summary>
public sealed record EntryWithdrawn(Guid VisitId, Guid EntryId, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

public enum HeadHeight
{
    Natural,
    Raised,
    Lowered,
}

public enum Source
{
    OnSite,
    SentIn,
}

/// <summary>What is known to move the numbers (method.md, section 1): backs widen with work, toplines move with posture and body
/// work.</summary>
/// <param name="LevelGround">Null where nobody said.</param>
/// <param name="StoodSquare">Null where nobody said.</param>
/// <param name="Holder">The person who held the horse.</param>
public sealed record VisitConditions(
    bool? LevelGround = null,
    bool? StoodSquare = null,
    HeadHeight Head = HeadHeight.Natural,
    bool RiddenInLastTwoHours = false,
    bool BodyWorkInLastDay = false,
    Guid? Holder = null,
    Source Source = Source.OnSite
);
