using System.Collections.Immutable;

namespace BackHistory.History.Horses;

/// <summary>
/// What a decision about a horse needs to know, and no more: its details, its visits and which of their entries stand. Kept up with the stream in
/// the same transaction.
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

    public ImmutableDictionary<Guid, VisitState> Visits { get; init; } = ImmutableDictionary<Guid, VisitState>.Empty;

    public static Horse Create(HorseRegistered e) => new()
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
        this with { Name = e.Name, Sex = e.Sex, Foaled = e.Foaled, HeightMm = e.HeightMm, Breed = e.Breed, Colour = e.Colour };

    public Horse Apply(OwnerChanged e) => this with { OwnerId = e.OwnerId };

    public Horse Apply(YardChanged e) => this with { YardId = e.YardId };

    // Events that no decision looks at still count: the version is the stream's.
    public Horse Apply(WorkChanged _) => this;

    public Horse Apply(CareNoted _) => this;

    public Horse Apply(VisitRecorded e) => this with { Visits = Visits.SetItem(e.VisitId, new VisitState(e.TakenAt, e.By)) };

    public Horse Apply(VisitCorrected e) => Change(e.VisitId, v => v with { TakenAt = e.VisitTakenAt, By = e.TakenBy });

    public Horse Apply(VisitWithdrawn e) => Change(e.VisitId, v => v with { Withdrawn = true });

    public Horse Apply(CrossSectionTraced e) => Enter(e);

    public Horse Apply(ToplineTraced e) => Enter(e);

    public Horse Apply(ReadingTaken e) => Enter(e);

    public Horse Apply(ConditionScored e) => Enter(e);

    public Horse Apply(MuscleScored e) => Enter(e);

    public Horse Apply(Weighed e) => Enter(e);

    public Horse Apply(GirthTaped e) => Enter(e);

    public Horse Apply(EntryCorrected e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, false) });

    public Horse Apply(EntryWithdrawn e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, false) });

    public Horse Apply(ConfirmationAsked e) => Change(e.VisitId, v => v with { AwaitsConfirmation = true });

    public Horse Apply(VisitConfirmed e) => Change(e.VisitId, v => v with { AwaitsConfirmation = false });

    private Horse Enter(IVisitEntryEvent e) => Change(e.VisitId, v => v with { Entries = v.Entries.SetItem(e.EntryId, true) });

    private Horse Change(Guid visit, Func<VisitState, VisitState> change) =>
        Visits.TryGetValue(visit, out var state) ? this with { Visits = Visits.SetItem(visit, change(state)) } : this;
}

/// <summary>A visit as decisions see it; <c>Entries</c> maps an entry to whether it stands.</summary>
public sealed record VisitState(DateTimeOffset TakenAt, Guid By)
{
    public bool Withdrawn { get; init; }

    /// <summary>An apprentice entered it, and nobody has confirmed it yet.</summary>
    public bool AwaitsConfirmation { get; init; }

    public ImmutableDictionary<Guid, bool> Entries { get; init; } = ImmutableDictionary<Guid, bool>.Empty;
}
