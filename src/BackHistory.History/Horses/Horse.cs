using System.Collections.Immutable;

namespace BackHistory.History.Horses;

/// <summary>
/// What a decision about a horse needs to know, and no more: its details, its visits and which of their entries stand, what else was
/// noted of it. Kept up with the stream in the same transaction.
/// </summary>
public sealed partial record Horse : IFolded<Horse>
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

    /// <inheritdoc/>
    public static Horse? After(Horse? before, object e) =>
        (before, e) switch
        {
            (_, HorseRegistered d) => From(d),
            (null, _) => null,
            ({ } known, HorseDetailsCorrected d) => known.Then(d),
            ({ } known, HorseWithdrawn d) => known.Then(d),
            ({ } known, HorseRestored d) => known.Then(d),
            ({ } known, HorseMerged d) => known.Then(d),
            ({ } known, HorseMergedAway d) => known.Then(d),
            ({ } known, OwnerChanged d) => known.Then(d),
            ({ } known, YardChanged d) => known.Then(d),
            ({ } known, CareRoleTaken d) => known.Then(d),
            ({ } known, CareRoleEnded d) => known.Then(d),
            ({ } known, WorkChanged d) => known.Then(d),
            ({ } known, WorkWithdrawn d) => known.Then(d),
            ({ } known, CareNoted d) => known.Then(d),
            ({ } known, CareEnded d) => known.Then(d),
            ({ } known, CareCorrected d) => known.Then(d),
            ({ } known, CareWithdrawn d) => known.Then(d),
            ({ } known, HorseFileAttached d) => known.Then(d),
            ({ } known, HorseFileRemoved d) => known.Then(d),
            ({ } known, VisitRecorded d) => known.Then(d),
            ({ } known, VisitCorrected d) => known.Then(d),
            ({ } known, VisitWithdrawn d) => known.Then(d),
            ({ } known, VisitMerged d) => known.Then(d),
            ({ } known, CrossSectionTraced d) => known.Then(d),
            ({ } known, ToplineTraced d) => known.Then(d),
            ({ } known, ReadingTaken d) => known.Then(d),
            ({ } known, ConditionScored d) => known.Then(d),
            ({ } known, MuscleScored d) => known.Then(d),
            ({ } known, Weighed d) => known.Then(d),
            ({ } known, GirthTaped d) => known.Then(d),
            ({ } known, HeightMeasured d) => known.Then(d),
            ({ } known, VisitNoted d) => known.Then(d),
            ({ } known, EntryCorrected d) => known.Then(d),
            ({ } known, EntryWithdrawn d) => known.Then(d),
            ({ } known, ConfirmationAsked d) => known.Then(d),
            ({ } known, VisitConfirmed d) => known.Then(d),
            _ => throw UnknownEventException.In(nameof(Horse), e),
        };

    private static Horse From(HorseRegistered e) =>
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

    private Horse Then(HorseDetailsCorrected e) =>
        this with
        {
            Name = e.Name,
            Sex = e.Sex,
            Foaled = e.Foaled,
            HeightMm = e.HeightMm,
            Breed = e.Breed,
            Colour = e.Colour,
        };

    private Horse Then(HorseWithdrawn _) => this with { Withdrawn = true };

    private Horse Then(HorseRestored _) => this with { Withdrawn = false };

    private Horse Then(HorseMerged e) => this with { Merged = Merged.Add(e.DuplicateId) };

    private Horse Then(HorseMergedAway e) => this with { MergedInto = e.IntoId };

    private Horse Then(OwnerChanged e) => this with { OwnerId = e.OwnerId };

    private Horse Then(YardChanged e) => this with { YardId = e.YardId };

    private Horse Then(CareRoleTaken e) => this with { Care = Care.Add(new CarePart(e.PersonId, e.Role)) };

    private Horse Then(CareRoleEnded e) => this with { Care = Care.Remove(new CarePart(e.PersonId, e.Role)) };

    private Horse Then(WorkChanged e) => Note(e.WorkId, NotedAs.Work);

    private Horse Then(WorkWithdrawn e) => Strike(e.WorkId);

    private Horse Then(CareNoted e) => Note(e.NoteId, NotedAs.Care, e.From, e.Until);

    private Horse Then(CareEnded e) => Note(e.NoteId, NotedAs.Care, Noted.GetValueOrDefault(e.NoteId)?.From, e.Until);

    private Horse Then(CareCorrected e) => Note(e.NoteId, NotedAs.Care, e.From, e.Until);

    private Horse Then(CareWithdrawn e) => Strike(e.NoteId);

    private Horse Then(HorseFileAttached e) => Note(e.File.FileId, NotedAs.File);

    private Horse Then(HorseFileRemoved e) => Strike(e.FileId);

    private Horse Then(VisitRecorded e) => this with { Visits = Visits.SetItem(e.VisitId, new VisitState(e.TakenAt, e.By)) };

    private Horse Then(VisitCorrected e) => Change(e.VisitId, v => v with { TakenAt = e.VisitTakenAt, By = e.TakenBy });

    private Horse Then(VisitWithdrawn e) => Change(e.VisitId, v => v with { Withdrawn = true });

    private Horse Then(VisitMerged e) => Change(e.VisitId, v => v with { Withdrawn = true });

    private Horse Then(CrossSectionTraced e) => Enter(e);

    private Horse Then(ToplineTraced e) => Enter(e);

    private Horse Then(ReadingTaken e) => Enter(e);

    private Horse Then(ConditionScored e) => Enter(e);

    private Horse Then(MuscleScored e) => Enter(e);

    private Horse Then(Weighed e) => Enter(e);

    private Horse Then(GirthTaped e) => Enter(e);

    private Horse Then(HeightMeasured e) => Enter(e);

    private Horse Then(VisitNoted e) => Enter(e);

    private Horse Then(EntryCorrected e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, false) });

    private Horse Then(EntryWithdrawn e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, false) });

    private Horse Then(ConfirmationAsked e) => Change(e.VisitId, v => v with { AwaitsConfirmation = true });

    private Horse Then(VisitConfirmed e) => Change(e.VisitId, v => v with { AwaitsConfirmation = false });

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
