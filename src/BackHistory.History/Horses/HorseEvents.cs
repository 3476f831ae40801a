using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <summary>
/// What can happen in a horse's history. Every event carries when it was true (<c>TakenAt</c>, the yard's time) and who did it (<c>By</c>, a person's id,
/// never a name). When it was recorded is the store's own clock. Lengths are millimetres, angles degrees, masses kilograms.
/// </summary>
public interface IHorseEvent : IHappened;

/// <param name="HorseId">The stream's id.</param>
/// <param name="Name">The horse's name: a horse is nobody's personal data; its owner is (<paramref name="OwnerId"/> names a document).</param>
/// <param name="HeightMm">Height at the withers, millimetres.</param>
public sealed record HorseRegistered(
    Guid HorseId, string Name, Sex? Sex, DateOnly? Foaled, int? HeightMm, string? Breed, string? Colour,
    Guid? OwnerId, Guid? YardId, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>The details as they stand after the correction; what is null was not given.</summary>
public sealed record HorseDetailsCorrected(
    string Name, Sex? Sex, DateOnly? Foaled, int? HeightMm, string? Breed, string? Colour, string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

public sealed record OwnerChanged(Guid? OwnerId, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

public sealed record YardChanged(Guid? YardId, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>The horse's work from this day on.</summary>
public sealed record WorkChanged(WorkLoad Load, string? Discipline, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>Something about the horse's health or care that explains a change of shape. The words themselves are a note document.</summary>
public sealed record CareNoted(Guid NoteId, CareKind Kind, DateOnly From, DateOnly? Until, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>One visit, or one set of tracings that the owner sent in.</summary>
/// <param name="Method">With what it was traced, for example <c>flexible-curve</c>: a change of method breaks a series.</param>
/// <param name="ProtocolVersion">The version of the practice's protocol that named the stations.</param>
public sealed record VisitRecorded(
    Guid VisitId, VisitConditions Conditions, string Method, int ProtocolVersion, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

public sealed record VisitCorrected(
    Guid VisitId, VisitConditions Conditions, string Method, DateTimeOffset VisitTakenAt, Guid TakenBy, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

public sealed record VisitWithdrawn(Guid VisitId, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

/// <summary>A cross-section as traced, in millimetres with y up, in traced order.</summary>
/// <param name="Noise">Standard deviation of each coordinate, millimetres.</param>
public sealed record CrossSectionTraced(
    Guid VisitId, Guid EntryId, string Station, IReadOnlyList<Point> Points, Point? Midline, IReadOnlyList<Point>? Level,
    IReadOnlyDictionary<string, Point> Marks, double Noise, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>A topline as traced, in millimetres with v up, towards the tail on the right.</summary>
public sealed record ToplineTraced(
    Guid VisitId, Guid EntryId, IReadOnlyList<Point> Points, IReadOnlyList<Point>? Level, IReadOnlyDictionary<string, Point> Marks, bool TailLeft,
    double Noise, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>A number taken by hand, for example <c>read-slope-left</c> at a station.</summary>
public sealed record ReadingTaken(
    Guid VisitId, Guid EntryId, string Measure, string? Station, double Value, string Unit, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>Body condition, 1 to 9 in half points (Henneke et al. 1983).</summary>
public sealed record ConditionScored(Guid VisitId, Guid EntryId, double Score, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>Muscle score at one site on the scale that is named; built in: 1 (no atrophy) to 4 (Herbst et al. 2022).</summary>
public sealed record MuscleScored(Guid VisitId, Guid EntryId, string Site, string Scale, double Score, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>A scale's reading.</summary>
public sealed record Weighed(Guid VisitId, Guid EntryId, double Kilograms, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>Girth and length by tape, from which the weight is estimated when it is read.</summary>
public sealed record GirthTaped(Guid VisitId, Guid EntryId, double GirthMm, double LengthMm, DateTimeOffset TakenAt, Guid By) : IVisitEntryEvent;

/// <summary>An entry was wrong and another stands in its place; both stay in the history.</summary>
public sealed record EntryCorrected(Guid VisitId, Guid EntryId, Guid ReplacedBy, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

public sealed record EntryWithdrawn(Guid VisitId, Guid EntryId, string Reason, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

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

public enum Sex { Mare, Gelding, Stallion }

public enum WorkLoad { None, Light, Moderate, Hard }

public enum CareKind { LayOff, Illness, Veterinary, Farriery, Physiotherapy, Growth, Other }

public enum HeadHeight { Natural, Raised, Lowered }

public enum Source { OnSite, SentIn }

/// <summary>What is known to move the numbers (method.md, section 1): backs widen with work, toplines move with posture and body work.</summary>
/// <param name="Holder">The person who held the horse.</param>
public sealed record VisitConditions(
    bool LevelGround = true, bool StoodSquare = true, HeadHeight Head = HeadHeight.Natural, bool RiddenInLastTwoHours = false,
    bool BodyWorkInLastDay = false, Guid? Holder = null, Source Source = Source.OnSite);
