using System.Collections.Immutable;
using BackHistory.History.Files;

namespace BackHistory.History.Saddles;

/// <summary>A saddle, every horse it was set for and what was done; kept up with its stream in the same transaction.</summary>
public sealed partial record Saddle : IFolded<Saddle>
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

    /// <summary>The horses to which it went, or for which it was kept after a trial, and for which it was not set yet.</summary>
    public ImmutableSortedSet<Guid> NotYetSet { get; init; } = [];

    public ImmutableList<SaddleTrial> Trials { get; init; } = [];

    public ImmutableList<PadInUse> Pads { get; init; } = [];

    /// <summary>Files by id; null once it is shown no longer.</summary>
    public ImmutableSortedDictionary<Guid, AttachedFile?> Files { get; init; } = ImmutableSortedDictionary<Guid, AttachedFile?>.Empty;

    /// <inheritdoc/>
    public static Saddle? After(Saddle? before, object e) =>
        (before, e) switch
        {
            (_, SaddleRegistered d) => From(d),
            (null, _) => null,
            ({ } known, SaddleDetailsCorrected d) => known.Then(d),
            ({ } known, SaddleWithdrawn d) => known.Then(d),
            ({ } known, SaddleOwnerChanged d) => known.Then(d),
            ({ } known, SaddlePartsListed d) => known.Then(d),
            ({ } known, SaddleSet d) => known.Then(d),
            ({ } known, SaddleAltered d) => known.Then(d),
            ({ } known, SaddleFlocked d) => known.Then(d),
            ({ } known, SaddleWorkCorrected d) => known.Then(d),
            ({ } known, SaddleWorkWithdrawn d) => known.Then(d),
            ({ } known, SaddleTakenOff d) => known.Then(d),
            ({ } known, SaddleMoved d) => known.Then(d),
            ({ } known, SaddleTrialBegun d) => known.Then(d),
            ({ } known, SaddleTrialEnded d) => known.Then(d),
            ({ } known, PadFitted d) => known.Then(d),
            ({ } known, PadRemoved d) => known.Then(d),
            ({ } known, SaddleFileAttached d) => known.Then(d),
            ({ } known, SaddleFileRemoved d) => known.Then(d),
            _ => throw UnknownEventException.In(nameof(Saddle), e),
        };

    private static Saddle From(SaddleRegistered e) =>
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

    private Saddle Then(SaddleDetailsCorrected e) =>
        this with
        {
            Label = e.Label,
            Tree = e.Tree,
            Panel = e.Panel,
            Girthing = e.Girthing,
            Gauge = e.Gauge,
        };

    private Saddle Then(SaddleWithdrawn _) => this with { Withdrawn = true };

    private Saddle Then(SaddleOwnerChanged e) => this with { OwnerId = e.OwnerId };

    private Saddle Then(SaddlePartsListed e) => this with { Parts = [.. e.Parts] };

    private Saddle Then(SaddleSet e) => Add(e, set: true, fresh: e.NewSaddle);

    private Saddle Then(SaddleAltered e) => Add(e, set: false, fresh: e.Reflocked);

    private Saddle Then(SaddleFlocked e) => Add(e, set: false, fresh: true, new Flocking(e.Material, e.Whole));

    private Saddle Then(SaddleWorkCorrected e) => Strike(e.WorkId);

    private Saddle Then(SaddleWorkWithdrawn e) => Strike(e.WorkId);

    private Saddle Then(SaddleTakenOff e) =>
        this with
        {
            TakenOff = TakenOff.SetItem(e.HorseId, e.TakenAt),
            NotYetSet = NotYetSet.Remove(e.HorseId),
        };

    private Saddle Then(SaddleMoved e) =>
        this with
        {
            TakenOff = TakenOff.SetItem(e.FromHorseId, e.TakenAt).Remove(e.HorseId),
            NotYetSet = NotYetSet.Add(e.HorseId).Remove(e.FromHorseId),
        };

    private Saddle Then(SaddleTrialBegun e) => this with { Trials = Trials.Add(new SaddleTrial(e.TrialId, e.HorseId, e.TakenAt, e.Until)) };

    private Saddle Then(SaddleTrialEnded e)
    {
        var ended = this with
        {
            Trials = Trials.ConvertAll(t => t.TrialId == e.TrialId ? t with { Kept = e.Kept, EndedAt = e.TakenAt } : t),
        };
        // Taken off since, a trial whose end is entered late does not put it back on; set to the horse during the trial, it is on already.
        return !e.Kept || ended.IsOn(e.HorseId) || (TakenOff.TryGetValue(e.HorseId, out var off) && e.TakenAt <= off)
            ? ended
            : ended with
            {
                NotYetSet = NotYetSet.Add(e.HorseId),
                TakenOff = TakenOff.Remove(e.HorseId),
            };
    }

    private Saddle Then(PadFitted e) => this with { Pads = Pads.Add(new PadInUse(e.PadId, e.HorseId, e.Pad, e.Shims, e.TakenAt)) };

    private Saddle Then(PadRemoved e) => this with { Pads = Pads.ConvertAll(p => p.PadId == e.PadId ? p with { Until = e.TakenAt } : p) };

    private Saddle Then(SaddleFileAttached e) => this with { Files = Files.SetItem(e.File.FileId, e.File) };

    private Saddle Then(SaddleFileRemoved e) => this with { Files = Files.SetItem(e.FileId, null) };

    /// <summary>Whether it is in use on the horse: set to it, moved to it or kept for it, and not taken off since.</summary>
    public bool IsOn(Guid horseId) =>
        NotYetSet.Contains(horseId) || (Work.Any(w => w.HorseId == horseId && !w.Withdrawn) && !TakenOff.ContainsKey(horseId));

    /// <summary>Whether anything of it stands for the horse: work, a pad, a trial that runs, or that it went there.</summary>
    public bool StandsOn(Guid horseId) =>
        NotYetSet.Contains(horseId)
        || Work.Any(w => w.HorseId == horseId && !w.Withdrawn)
        || Pads.Any(p => p.HorseId == horseId && p.Until is null)
        || Trials.Any(t => t.HorseId == horseId && t.Kept is null);

    /// <summary>The horses on which it is in use.</summary>
    public IEnumerable<Guid> OnHorses() => Work.Select(w => w.HorseId).Concat(NotYetSet).Distinct().Where(IsOn);

    /// <summary>Every horse of which anything was ever recorded.</summary>
    public IEnumerable<Guid> EverOn() =>
        Work.Select(w => w.HorseId)
            .Concat(NotYetSet)
            .Concat(TakenOff.Keys)
            .Concat(Pads.Select(p => p.HorseId))
            .Concat(Trials.Select(t => t.HorseId))
            .Distinct();

    private Saddle Add(ISaddleWork e, bool set, bool fresh, Flocking? flocking = null) =>
        this with
        {
            Work = Work.Add(new SaddleWork(e.WorkId, e.HorseId, e.VisitId, e.TakenAt, e.By, set, fresh, e.Done, Flocking: flocking)),
            // Work of a day before it came off, entered late, does not put it back on.
            TakenOff = TakenOff.TryGetValue(e.HorseId, out var off) && e.TakenAt <= off ? TakenOff : TakenOff.Remove(e.HorseId),
            NotYetSet = NotYetSet.Remove(e.HorseId),
        };

    private Saddle Strike(Guid work) => this with { Work = Work.ConvertAll(w => w.WorkId == work ? w with { Withdrawn = true } : w) };
}
