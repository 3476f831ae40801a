using System.Collections.Immutable;
using BackHistory.History.Horses;

namespace BackHistory.History.Profiles;

/// <summary>
/// One horse as the practice sees it at a glance: its details, what was done to its saddles, what explains a change, which reminders are
/// open. A read model over the horse's own events, those of its saddles and those of its reminders.
/// </summary>
public sealed partial record HorseProfile
{
    public Guid Id { get; init; }

    /// <summary>The horse stream's own version. (The store keeps a member named Version for itself, and sets it to another number
    /// here.)</summary>
    public long StreamVersion { get; init; }

    /// <summary>Position of the last event that touched this horse in the whole store.</summary>
    public long Head { get; init; }

    public string Name { get; init; } = "";

    public Sex? Sex { get; init; }

    public DateOnly? Foaled { get; init; }

    public int? HeightMm { get; init; }

    public string? Breed { get; init; }

    public string? Colour { get; init; }

    public Guid? OwnerId { get; init; }

    public Guid? YardId { get; init; }

    /// <summary>Withdrawn or merged away: shown where it is asked for by name, counted and watched nowhere.</summary>
    public bool Gone { get; init; }

    /// <summary>The registration in which its history goes on.</summary>
    public Guid? MergedInto { get; init; }

    public DateTimeOffset RegisteredAt { get; init; }

    /// <summary>By visit id; withdrawn ones are gone.</summary>
    public ImmutableSortedDictionary<Guid, DateTimeOffset> Visits { get; init; } = ImmutableSortedDictionary<Guid, DateTimeOffset>.Empty;

    /// <summary>Saddle work that stands, in the order of recording.</summary>
    public ImmutableList<SaddleFit> Fits { get; init; } = [];

    /// <summary>Saddles that are no longer used on it, since when: work of an earlier day, entered late, does not put them back
    /// on.</summary>
    public ImmutableSortedDictionary<Guid, DateTimeOffset> TakenOff { get; init; } = ImmutableSortedDictionary<Guid, DateTimeOffset>.Empty;

    /// <summary>Saddles that came to it and were not set to it yet.</summary>
    public ImmutableSortedSet<Guid> NotYetSet { get; init; } = [];

    public ImmutableList<SaddleOnTrial> Trials { get; init; } = [];

    public ImmutableList<PadUnder> Pads { get; init; } = [];

    public ImmutableList<CarePart> CaredForBy { get; init; } = [];

    public ImmutableList<FileOn> Files { get; init; } = [];

    public ImmutableList<WorkSpan> Work { get; init; } = [];

    public ImmutableList<CareSpan> Care { get; init; } = [];

    public ImmutableSortedDictionary<Guid, OpenReminder> Reminders { get; init; } = ImmutableSortedDictionary<Guid, OpenReminder>.Empty;

    /// <summary>When the last of its events was recorded.</summary>
    public DateTimeOffset RecordedAt { get; init; }

    /// <summary>When something was last corrected or withdrawn, by the store's clock: decisions that rested on it are looked at
    /// again.</summary>
    public DateTimeOffset? LastCorrection { get; init; }

    /// <summary>Events that are not in this profile because they could not be worked out; null where there is none.</summary>
    public ImmutableList<SetAsideEvent>? SetAside { get; init; }

    /// <summary>Something of it was set aside; null when it is whole.</summary>
    public bool? NotWhole => SetAside is { IsEmpty: false } ? true : null;

    /// <summary>The day of the last visit at Greenwich, for sorting: what day it was where the practice is, only its clock says.</summary>
    public DateOnly? LastVisitOn => LastVisit is { } at ? ZoneClock.Day(at, TimeZoneInfo.Utc) : null;

    public bool HasReminder => !Reminders.IsEmpty;

    public DateTimeOffset? LastVisit => Visits.Count == 0 ? null : Visits.Values.Max();

    public WorkSpan? WorkNow => Work.Count == 0 ? null : Work.MaxBy(w => w.From);
}
