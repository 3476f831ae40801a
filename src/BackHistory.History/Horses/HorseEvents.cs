using BackHistory.History.Files;

namespace BackHistory.History.Horses;

/// <summary>
/// What can happen in a horse's history; its visits stand in <c>VisitEvents.cs</c>. Every event carries when it was true (<c>TakenAt</c>,
/// the yard's time) and who did it (<c>By</c>, a person's id, never a name). When it was recorded is the store's own clock. Lengths are
/// millimetres, angles degrees, masses kilograms.
/// </summary>
public interface IHorseEvent : IHappened;

/// <summary>A horse became known to the practice.</summary>
/// <param name="HorseId">The stream's id.</param>
/// <param name="Name">The horse's name: a horse is nobody's personal data; its owner is (<paramref name="OwnerId"/> names a
/// document).</param>
/// <param name="HeightMm">Height at the withers, millimetres.</param>
public sealed record HorseRegistered(
    Guid HorseId,
    string Name,
    Sex? Sex,
    DateOnly? Foaled,
    int? HeightMm,
    string? Breed,
    string? Colour,
    Guid? OwnerId,
    Guid? YardId,
    DateTimeOffset TakenAt,
    Guid By
) : IHorseEvent;

/// <summary>Its details as they stand after a correction; what is null was not given.</summary>
public sealed record HorseDetailsCorrected(
    string Name,
    Sex? Sex,
    DateOnly? Foaled,
    int? HeightMm,
    string? Breed,
    string? Colour,
    string Reason,
    DateTimeOffset TakenAt,
    Guid By
) : IHorseEvent;

/// <summary>It was registered by mistake: nothing about it is watched any more.</summary>
public sealed record HorseWithdrawn(string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>It was withdrawn by mistake: it is watched again, as it stood.</summary>
public sealed record HorseRestored(string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>Another registration of the same horse was taken into this one; its visits, care and work follow as events of this
/// stream.</summary>
public sealed record HorseMerged(Guid DuplicateId, string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>This registration was a second one of the same horse, whose history goes on in the other.</summary>
public sealed record HorseMergedAway(Guid IntoId, string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>The horse has another owner, or none that is known.</summary>
public sealed record OwnerChanged(Guid? OwnerId, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>The horse stands in another yard.</summary>
public sealed record YardChanged(Guid? YardId, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>A person took a part in the horse's care. What they may see is another matter.</summary>
public sealed record CareRoleTaken(Guid PersonId, CareRole Role, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>A person no longer has a part in the horse's care.</summary>
public sealed record CareRoleEnded(Guid PersonId, CareRole Role, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>The horse's work from this day on: how hard, in which discipline, how many hours a week.</summary>
/// <param name="WorkId">Names this span, so that it can be withdrawn. Version 1 had none, and no hours.</param>
public sealed record WorkChanged(Guid WorkId, WorkLoad Load, string? Discipline, double? HoursPerWeek, DateTimeOffset TakenAt, Guid By)
    : IHorseEvent;

/// <summary>A span of work was entered by mistake.</summary>
public sealed record WorkWithdrawn(Guid WorkId, string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>
/// Something about the horse's health or care that explains a change of shape: a lay-off, an illness, a veterinary, farrier's or
/// physiotherapist's note, growth. The words themselves are a note that can be erased.
/// </summary>
public sealed record CareNoted(Guid NoteId, CareKind Kind, DateOnly From, DateOnly? Until, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>What was noted came to its end: the horse is back from its lay-off, the illness is over.</summary>
public sealed record CareEnded(Guid NoteId, DateOnly Until, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>What was noted about its care, as it stands after a correction.</summary>
public sealed record CareCorrected(
    Guid NoteId,
    CareKind Kind,
    DateOnly From,
    DateOnly? Until,
    string Reason,
    DateTimeOffset TakenAt,
    Guid By
) : IHorseEvent;

/// <summary>A note about its care was entered by mistake.</summary>
public sealed record CareWithdrawn(Guid NoteId, string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>A photograph or a document was attached to the horse, or to one of its visits.</summary>
public sealed record HorseFileAttached(AttachedFile File, Guid? VisitId, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

/// <summary>A file is no longer shown with the horse.</summary>
public sealed record HorseFileRemoved(Guid FileId, string Reason, DateTimeOffset TakenAt, Guid By) : IHorseEvent;

public enum Sex
{
    Mare,
    Gelding,
    Stallion,
}

public enum WorkLoad
{
    None,
    Light,
    Moderate,
    Hard,
}

public enum CareKind
{
    LayOff,
    Illness,
    Veterinary,
    Farriery,
    Physiotherapy,
    Growth,
    Other,
}

/// <summary>A part in a horse's care. Its owner is an event of its own: a horse has one.</summary>
public enum CareRole
{
    Rider,
    Trainer,
    Groom,
    Fitter,
    Veterinarian,
    Physiotherapist,
    Farrier,
}
