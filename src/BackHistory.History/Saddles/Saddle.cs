using System.Collections.Immutable;
using BackHistory.History.Files;

namespace BackHistory.History.Saddles;

/// <summary>A saddle, every horse it was set for and what was done; kept up with its stream in the same transaction.</summary>
public sealed partial record Saddle
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public string Label { get; init; } = "";

    public string? Tree { get; init; }

    public string? Panel { get; init; }

    public string? Girthing { get; init; }

    /// <summary>The key of the gauge table of its tree.</summary>
    public string? Gauge { get; init; }

    public Guid? OwnerId { get; init; }

    public bool Withdrawn { get; init; }

    public ImmutableList<SaddlePart> Parts { get; init; } = [];

    /// <summary>In the order in which it was recorded.</summary>
    public ImmutableList<SaddleWork> Work { get; init; } = [];

    /// <summary>The horses on which it was used and no longer is, since when.</summary>
    public ImmutableSortedDictionary<Guid, DateTimeOffset> TakenOff { get; init; } = ImmutableSortedDictionary<Guid, DateTimeOffset>.Empty;

    /// <summary>The horses to which it went and for which it was not set yet.</summary>
    public ImmutableSortedSet<Guid> NotYetSet { get; init; } = [];

    public ImmutableList<SaddleTrial> Trials { get; init; } = [];

    public ImmutableList<PadInUse> Pads { get; init; } = [];

    /// <summary>Files by id; null once it is shown no longer.</summary>
    public ImmutableSortedDictionary<Guid, AttachedFile?> Files { get; init; } = ImmutableSortedDictionary<Guid, AttachedFile?>.Empty;

    public static Saddle Create(SaddleRegistered e) =>
        new()
        {
            Id = e.SaddleId,
            Label = e.Label,
            Tree = e.Tree,
            Panel = e.Panel,
            Girthing = e.Girthing,
            Gauge = e.Gauge,
            OwnerId = e.OwnerId,
        };

    public Saddle Apply(SaddleDetailsCorrected e) =>
        this with
        {
            Label = e.Label,
            Tree = e.Tree,
            Panel = e.Panel,
            Girthing = e.Girthing,
            Gauge = e.Gauge,
        };

    public Saddle Apply(SaddleWithdrawn _) => this with { Withdrawn = true };

    public Saddle Apply(SaddleOwnerChanged e) => this with { OwnerId = e.OwnerId };

    public Saddle Apply(SaddlePartsListed e) => this with { Parts = [.. e.Parts] };

    public Saddle Apply(SaddleSet e) => Add(e, set: true, fresh: e.NewSaddle);

    public Saddle Apply(SaddleAltered e) => Add(e, set: false, fresh: e.Reflocked);

    public Saddle Apply(SaddleFlocked e) => Add(e, set: false, fresh: true);

    public Saddle Apply(SaddleWorkCorrected e) => Strike(e.WorkId);

    public Saddle Apply(SaddleWorkWithdrawn e) => Strike(e.WorkId);

    public Saddle Apply(SaddleTakenOff e) =>
        this with
        {
            TakenOff = TakenOff.SetItem(e.HorseId, e.TakenAt),
            NotYetSet = NotYetSet.Remove(e.HorseId),
        };

    public Saddle Apply(SaddleMoved e) =>
        this with
        {
            TakenOff = TakenOff.SetItem(e.FromHorseId, e.TakenAt).Remove(e.HorseId),
            NotYetSet = NotYetSet.Add(e.HorseId).Remove(e.FromHorseId),
        };

    public Saddle Apply(SaddleTrialBegun e) => this with { Trials = Trials.Add(new SaddleTrial(e.TrialId, e.HorseId, e.TakenAt, e.Until)) };

    public Saddle Apply(SaddleTrialEnded e) =>
        this with
        {
            Trials = Trials.ConvertAll(t => t.TrialId == e.TrialId ? t with { Kept = e.Kept, EndedAt = e.TakenAt } : t),
        };

    public Saddle Apply(PadFitted e) => this with { Pads = Pads.Add(new PadInUse(e.PadId, e.HorseId, e.Pad, e.Shims, e.TakenAt)) };

    public Saddle Apply(PadRemoved e) => this with { Pads = Pads.ConvertAll(p => p.PadId == e.PadId ? p with { Until = e.TakenAt } : p) };

    public Saddle Apply(SaddleFileAttached e) => this with { Files = Files.SetItem(e.File.FileId, e.File) };

    public Saddle Apply(SaddleFileRemoved e) => this with { Files = Files.SetItem(e.FileId, null) };

    /// <summary>Whether it is in use on the horse: set to it or moved to it, and not taken off since.</summary>
    public bool IsOn(Guid horseId) =>
        NotYetSet.Contains(horseId) || (Work.Any(w => w.HorseId == horseId && !w.Withdrawn) && !TakenOff.ContainsKey(horseId));

    /// <summary>Whether anything of it stands for the horse: work, a pad, a trial that runs, or that it went there.</summary>
    public bool StandsOn(Guid horseId) =>
        NotYetSet.Contains(horseId)
        || Work.Any(w => w.HorseId == horseId && !w.Withdrawn)
        || Pads.Any(p => p.HorseId == horseId && p.Until is null)
        || Trials.Any(t => t.HorseId == horseId && t.Kept is null);

    private Saddle Add(ISaddleWork e, bool set, bool fresh) =>
        this with
        {
            Work = Work.Add(new SaddleWork(e.WorkId, e.HorseId, e.VisitId, e.TakenAt, e.By, set, fresh, e.Done)),
            // Work of a day before it came off, entered late, does not put it back on.
            TakenOff = TakenOff.TryGetValue(e.HorseId, out var off) && e.TakenAt <= off ? TakenOff : TakenOff.Remove(e.HorseId),
            NotYetSet = NotYetSet.Remove(e.HorseId),
        };

    private Saddle Strike(Guid work) => this with { Work = Work.ConvertAll(w => w.WorkId == work ? w with { Withdrawn = true } : w) };
}

/// <param name="Set">Set to the horse; otherwise altered or flocked for it. All are baselines.</param>
/// <param name="Fresh">A new or re-flocked saddle, which settles in the first weeks.</param>
public sealed record SaddleWork(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    Guid By,
    bool Set,
    bool Fresh,
    IReadOnlyList<Adjustment> Done,
    bool Withdrawn = false
);

/// <param name="Kept">Null while the trial runs.</param>
public sealed record SaddleTrial(
    Guid TrialId,
    Guid HorseId,
    DateTimeOffset From,
    DateOnly? Until,
    bool? Kept = null,
    DateTimeOffset? EndedAt = null
);

public sealed record PadInUse(
    Guid PadId,
    Guid HorseId,
    string Pad,
    IReadOnlyList<Shim> Shims,
    DateTimeOffset From,
    DateTimeOffset? Until = null
);
