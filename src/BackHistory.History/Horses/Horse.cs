using System.Collections.Immutable;

namespace BackHistory.History.Horses;

/// <summary>
/// What a decision about a horse needs to know, and no more: its details, its visits and which of their entries stand, what else was
/// noted of it. Kept up
/// with the stream in the same transaction.
/// </summary>
public sealed partial record Horse
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public string Name { get; init; } = "";

    public Sex? Sex { get; init; }

    public DateOnly? Foaled { get; init; }

    public int? HeightMm { get; init; }

    public string? Breed { get; init; }

    public string? Colour { get; init; }

    public Guid? OwnerId { get; init; }

    public Guid? YardId { get; init; }

    /// <summary>It was registered by mistake.</summary>
    public bool Withdrawn { get; init; }

    /// <summary>The registration in which its history goes on, when it was registered twice.</summary>
    public Guid? MergedInto { get; init; }

    /// <summary>Second registrations that were taken into this one.</summary>
    public ImmutableSortedSet<Guid> Merged { get; init; } = [];

    public ImmutableSortedDictionary<Guid, VisitState> Visits { get; init; } = ImmutableSortedDictionary<Guid, VisitState>.Empty;

    /// <summary>Spans of work, notes of care and files by id; whether each stands.</summary>
    public ImmutableSortedDictionary<Guid, Noted> Noted { get; init; } = ImmutableSortedDictionary<Guid, Noted>.Empty;

    /// <summary>Who has which part in its care now.</summary>
    public ImmutableList<CarePart> Care { get; init; } = [];

    public static Horse Create(HorseRegistered e) =>
        new()
        {
            Id = e.HorseId,
            Name = e.Name,
            Sex = e.Sex,
            Foaled = e.Foaled,
            HeightMm = e.HeightMm,
            Breed = e.Breed,
            Colour = e.Colour,
            OwnerId = e.OwnerId,
            YardId = e.YardId,
        };

    public Horse Apply(HorseDetailsCorrected e) =>
        this with
        {
            Name = e.Name,
            Sex = e.Sex,
            Foaled = e.Foaled,
            HeightMm = e.HeightMm,
            Breed = e.Breed,
            Colour = e.Colour,
        };

    public Horse Apply(HorseWithdrawn _) => this with { Withdrawn = true };

    public Horse Apply(HorseMerged e) => this with { Merged = Merged.Add(e.DuplicateId) };

    public Horse Apply(HorseMergedAway e) => this with { MergedInto = e.IntoId };

    public Horse Apply(OwnerChanged e) => this with { OwnerId = e.OwnerId };

    public Horse Apply(YardChanged e) => this with { YardId = e.YardId };

    public Horse Apply(CareRoleTaken e) => this with { Care = Care.Add(new CarePart(e.PersonId, e.Role)) };

    public Horse Apply(CareRoleEnded e) => this with { Care = Care.Remove(new CarePart(e.PersonId, e.Role)) };

    public Horse Apply(WorkChanged e) => Note(e.WorkId, NotedAs.Work);

    public Horse Apply(WorkWithdrawn e) => Strike(e.WorkId);

    public Horse Apply(CareNoted e) => Note(e.NoteId, NotedAs.Care, e.From, e.Until);

    public Horse Apply(CareEnded e) => Note(e.NoteId, NotedAs.Care, Noted.GetValueOrDefault(e.NoteId)?.From, e.Until);

    public Horse Apply(CareCorrected e) => Note(e.NoteId, NotedAs.Care, e.From, e.Until);

    public Horse Apply(CareWithdrawn e) => Strike(e.NoteId);

    public Horse Apply(HorseFileAttached e) => Note(e.File.FileId, NotedAs.File);

    public Horse Apply(HorseFileRemoved e) => Strike(e.FileId);

    public Horse Apply(VisitRecorded e) => this with { Visits = Visits.SetItem(e.VisitId, new VisitState(e.TakenAt, e.By)) };

    public Horse Apply(VisitCorrected e) => Change(e.VisitId, v => v with { TakenAt = e.VisitTakenAt, By = e.TakenBy });

    public Horse Apply(VisitWithdrawn e) => Change(e.VisitId, v => v with { Withdrawn = true });

    public Horse Apply(VisitMerged e) => Change(e.VisitId, v => v with { Withdrawn = true });

    public Horse Apply(CrossSectionTraced e) => Enter(e);

    public Horse Apply(ToplineTraced e) => Enter(e);

    public Horse Apply(ReadingTaken e) => Enter(e);

    public Horse Apply(ConditionScored e) => Enter(e);

    public Horse Apply(MuscleScored e) => Enter(e);

    public Horse Apply(Weighed e) => Enter(e);

    public Horse Apply(GirthTaped e) => Enter(e);

    public Horse Apply(HeightMeasured e) => Enter(e);

    public Horse Apply(VisitNoted e) => Enter(e);

    public Horse Apply(EntryCorrected e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, false) });

    public Horse Apply(EntryWithdrawn e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, false) });

    public Horse Apply(ConfirmationAsked e) => Change(e.VisitId, v => v with { AwaitsConfirmation = true });

    public Horse Apply(VisitConfirmed e) => Change(e.VisitId, v => v with { AwaitsConfirmation = false });

    private Horse Enter(IVisitEntryEvent e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, true) });

    private Horse Change(Guid visit, Func<VisitState, VisitState> change) =>
        Visits.TryGetValue(visit, out var state) ? this with { Visits = Visits.SetItem(visit, change(state)) } : this;

    private Horse Note(Guid id, NotedAs what, DateOnly? from = null, DateOnly? until = null) =>
        this with
        {
            Noted = Noted.SetItem(id, new Noted(what, from, until)),
        };

    private Horse Strike(Guid id) =>
        Noted.TryGetValue(id, out var noted) ? this with { Noted = Noted.SetItem(id, noted with { Stands = false }) } : this;
}

/// <summary>A visit as decisions see it; <c>Entries</c> maps an entry to whether it stands.</summary>
public sealed record VisitState(DateTimeOffset TakenAt, Guid By)
{
    public bool Withdrawn { get; init; }

    /// <summary>An apprentice entered it, and nobody has confirmed it yet.</summary>
    public bool AwaitsConfirmation { get; init; }

    public ImmutableSortedDictionary<Guid, bool> Entries { get; init; } = ImmutableSortedDictionary<Guid, bool>.Empty;
}

/// <summary>Something noted of the horse beside its visits.</summary>
public sealed record Noted(NotedAs What, DateOnly? From, DateOnly? Until, bool Stands = true);

public enum NotedAs
{
    Work,
    Care,
    File,
}

public sealed record CarePart(Guid PersonId, CareRole Role);
