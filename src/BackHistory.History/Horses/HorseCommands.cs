using BackHistory.Shape;

namespace BackHistory.History.Horses;

public sealed record HorseDetails(string Name, Sex? Sex, DateOnly? Foaled, int? HeightMm, string? Breed, string? Colour);

public sealed record RegisterHorse(Guid HorseId, HorseDetails Details, Guid? OwnerId, Guid? YardId, DateTimeOffset TakenAt, Guid By);

public sealed record CorrectHorse(HorseDetails Details, string Reason, Guid By);

/// <param name="By">Who measured; who typed it in is the store's own record.</param>
public sealed record RecordVisit(
    Guid VisitId, DateTimeOffset TakenAt, Guid By, VisitConditions Conditions, string Method, int ProtocolVersion, IReadOnlyList<VisitEntry> Entries);

public sealed record AddEntries(Guid VisitId, IReadOnlyList<VisitEntry> Entries, Guid By);

public sealed record CorrectVisit(Guid VisitId, DateTimeOffset TakenAt, Guid TakenBy, VisitConditions Conditions, string Method, string Reason, Guid By);

public sealed record WithdrawVisit(Guid VisitId, string Reason, Guid By);

public sealed record CorrectEntry(Guid VisitId, Guid EntryId, VisitEntry Replacement, string Reason, Guid By);

public sealed record WithdrawEntry(Guid VisitId, Guid EntryId, string Reason, Guid By);

/// <param name="NoteId">The document that holds the words, if there are any.</param>
public sealed record NoteCare(Guid NoteId, CareKind Kind, DateOnly From, DateOnly? Until, Guid By);

public sealed record ChangeWork(WorkLoad Load, string? Discipline, DateTimeOffset From, Guid By);

/// <summary>One thing entered into a visit.</summary>
public abstract record VisitEntry(Guid EntryId);

/// <summary>A cross-section or a topline, in whatever unit and axis it was taken.</summary>
public sealed record TracingEntry(Guid EntryId, Tracing Tracing) : VisitEntry(EntryId);

public sealed record ReadingEntry(Guid EntryId, string Measure, string? Station, double Value) : VisitEntry(EntryId);

public sealed record ConditionEntry(Guid EntryId, double Score) : VisitEntry(EntryId);

public sealed record MuscleEntry(Guid EntryId, string Site, string Scale, double Score) : VisitEntry(EntryId);

public sealed record WeightEntry(Guid EntryId, double Kilograms) : VisitEntry(EntryId);

public sealed record GirthEntry(Guid EntryId, double GirthMm, double LengthMm) : VisitEntry(EntryId);
