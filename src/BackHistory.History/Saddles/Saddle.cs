using System.Collections.Immutable;

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

    /// <summary>In the order in which it was recorded.</summary>
    public ImmutableList<SaddleWork> Work { get; init; } = [];

    /// <summary>The horses on which it was used and no longer is.</summary>
    public ImmutableHashSet<Guid> TakenOff { get; init; } = [];

    public static Saddle Create(SaddleRegistered e) => new()
    {
        Id = e.SaddleId,
        Label = e.Label,
        Tree = e.Tree,
        Panel = e.Panel,
        Girthing = e.Girthing,
        Gauge = e.Gauge,
        OwnerId = e.OwnerId,
    };

    public Saddle Apply(SaddleDetailsCorrected e) => this with { Label = e.Label, Tree = e.Tree, Panel = e.Panel, Girthing = e.Girthing, Gauge = e.Gauge };

    public Saddle Apply(SaddleSet e) => Add(e, set: true, fresh: e.NewSaddle);

    public Saddle Apply(SaddleAltered e) => Add(e, set: false, fresh: e.Reflocked);

    public Saddle Apply(SaddleWorkWithdrawn e) =>
        this with { Work = Work.ConvertAll(w => w.WorkId == e.WorkId ? w with { Withdrawn = true } : w) };

    public Saddle Apply(SaddleTakenOff e) => this with { TakenOff = TakenOff.Add(e.HorseId) };

    private Saddle Add(ISaddleWork e, bool set, bool fresh) => this with
    {
        Work = Work.Add(new SaddleWork(e.WorkId, e.HorseId, e.VisitId, e.TakenAt, e.By, set, fresh, e.Done)),
        TakenOff = TakenOff.Remove(e.HorseId),
    };
}

/// <param name="Set">Set to the horse; otherwise altered for it. Both are baselines.</param>
/// <param name="Fresh">A new or re-flocked saddle, which settles in the first weeks.</param>
public sealed record SaddleWork(
    Guid WorkId, Guid HorseId, Guid? VisitId, DateTimeOffset TakenAt, Guid By, bool Set, bool Fresh, IReadOnlyList<Adjustment> Done, bool Withdrawn = false);
