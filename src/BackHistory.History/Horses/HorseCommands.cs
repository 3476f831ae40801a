using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.History.Horses;

public sealed record HorseDetails(string Name, Sex? Sex, DateOnly? Foaled, int? HeightMm, string? Breed, string? Colour);

public sealed record RegisterHorse(Guid HorseId, HorseDetails Details, Guid? OwnerId, Guid? YardId, DateTimeOffset TakenAt, Guid By);

public sealed record CorrectHorse(HorseDetails Details, string Reason, Guid By);

/// <param name="By">Who measured; who typed it in is the store's own record.</param>
public sealed record RecordVisit(
    Guid VisitId,
    DateTimeOffset TakenAt,
    Guid By,
    VisitConditions Conditions,
    string Method,
    int ProtocolVersion,
    IReadOnlyList<VisitEntry> Entries
);

public sealed record AddEntries(Guid VisitId, IReadOnlyList<VisitEntry> Entries, Guid By);

public sealed record CorrectVisit(
    Guid VisitId,
    DateTimeOffset TakenAt,
    Guid TakenBy,
    VisitConditions Conditions,
    string Method,
    string Reason,
    Guid By
);

public sealed record WithdrawVisit(Guid VisitId, string Reason, Guid By);

public sealed record CorrectEntry(Guid VisitId, Guid EntryId, VisitEntry Replacement, string Reason, Guid By);

public sealed record WithdrawEntry(Guid VisitId, Guid EntryId, string Reason, Guid By);

/// <summary>A visit that was withdrawn, or merged into another, stands again.</summary>
public sealed record RestoreVisit(Guid VisitId, Guid By);

/// <summary>An entry that was withdrawn or corrected stands again, in the place of what stands there.</summary>
public sealed record RestoreEntry(Guid VisitId, Guid EntryId, string Reason, Guid By);

/// <summary>A visit was entered at the wrong horse.</summary>
/// <param name="ToHorseId">The one that was measured.</param>
public sealed record GiveVisit(Guid VisitId, Guid ToHorseId, string Reason, Guid By);

public sealed record WithdrawHorse(string Reason, Guid By);

/// <summary>A registration that was withdrawn stands again.</summary>
public sealed record RestoreHorse(string Reason, Guid By);

/// <summary>This registration is a second one of the same horse.</summary>
/// <param name="IntoId">The one that stays.</param>
public sealed record MergeAway(Guid IntoId, string Reason, Guid By);

/// <summary>The other half: what stands of the second registration is entered into the one that stays.</summary>
public sealed record TakeIn(Guid DuplicateId, string Reason, Guid By);

/// <summary>A visit was entered twice.</summary>
/// <param name="IntoVisitId">The one that stays.</param>
public sealed record MergeVisit(Guid VisitId, Guid IntoVisitId, string Reason, Guid By);

public sealed record ChangeOwner(Guid? OwnerId, DateTimeOffset From, Guid By);

public sealed record ChangeYard(Guid? YardId, DateTimeOffset From, Guid By);

public sealed record TakeCareRole(Guid PersonId, CareRole Role, DateTimeOffset From, Guid By);

public sealed record EndCareRole(Guid PersonId, CareRole Role, DateTimeOffset At, Guid By);

/// <param name="Words">Kept beside the event, since they may tell of a person.</param>
/// <param name="About">The people of whom they tell.</param>
public sealed record NoteCare(
    Guid NoteId,
    CareKind Kind,
    DateOnly From,
    DateOnly? Until,
    Guid By,
    string? Words = null,
    IReadOnlyList<Guid>? About = null
);

public sealed record EndCare(Guid NoteId, DateOnly Until, Guid By);

public sealed record CorrectCare(
    Guid NoteId,
    CareKind Kind,
    DateOnly From,
    DateOnly? Until,
    string Reason,
    Guid By,
    string? Words = null,
    IReadOnlyList<Guid>? About = null
);

public sealed record WithdrawCare(Guid NoteId, string Reason, Guid By);

public sealed record ChangeWork(Guid WorkId, WorkLoad Load, string? Discipline, double? HoursPerWeek, DateTimeOffset From, Guid By);

public sealed record WithdrawWorkSpan(Guid WorkId, string Reason, Guid By);

/// <summary>One thing entered into a visit.</summary>
public abstract record VisitEntry(Guid EntryId);

/// <summary>A cross-section or a topline, in whatever unit and axis it was taken.</summary>
/// <param name="Calibration">Where it was traced from a picture.</param>
public sealed record TracingEntry(Guid EntryId, Tracing Tracing, Calibration? Calibration = null) : VisitEntry(EntryId)
{
    private Once? _once;

    /// <summary>
    /// The tracing as its event will hold it and what it measures, worked out once however often it is decided and whoever asks.
    /// </summary>
    public TracingFit Fit
    {
        get
        {
            if (_once is { } known && ReferenceEquals(known.Of, Tracing))
                return known.Fit;
            _once = new Once(Tracing, new TracingFit(Tracing.InMillimetres()));
            return _once.Fit;
        }
    }

    /// <summary>By what was entered, whether or not it was measured by now.</summary>
    public bool Equals(TracingEntry? other) =>
        other is not null && EntryId == other.EntryId && Tracing.Equals(other.Tracing) && Equals(Calibration, other.Calibration);

    public override int GetHashCode() => HashCode.Combine(EntryId, Tracing, Calibration);

    private sealed record Once(Tracing Of, TracingFit Fit);
}

public sealed record ReadingEntry(Guid EntryId, string Measure, string? Station, double Value) : VisitEntry(EntryId);

public sealed record ConditionEntry(Guid EntryId, double Score) : VisitEntry(EntryId);

public sealed record MuscleEntry(Guid EntryId, string Site, string Scale, double Score) : VisitEntry(EntryId);

public sealed record WeightEntry(Guid EntryId, double Kilograms) : VisitEntry(EntryId);

public sealed record GirthEntry(Guid EntryId, double GirthMm, double LengthMm) : VisitEntry(EntryId);

/// <summary>What was found, in words.</summary>
public sealed record NoteEntry(Guid EntryId, string Words) : VisitEntry(EntryId);

public sealed record HeightEntry(Guid EntryId, int WithersMm, int? CroupMm) : VisitEntry(EntryId);

public sealed record ConfirmVisit(Guid VisitId, Guid By);
