namespace BackHistory.History.Saddles;

/// <summary>What can happen to a saddle.</summary>
public interface ISaddleEvent : IHappened;

/// <param name="Label">What the practice calls it, for example its workshop number.</param>
/// <param name="Tree">The tree as the workshop describes it.</param>
/// <param name="Gauge">The key of the gauge table in which its tree is read, when it has one.</param>
public sealed record SaddleRegistered(
    Guid SaddleId, string Label, string? Tree, string? Panel, string? Girthing, string? Gauge, Guid? OwnerId, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

public sealed record SaddleDetailsCorrected(
    string Label, string? Tree, string? Panel, string? Girthing, string? Gauge, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>The saddle was set to a horse: a new baseline for everything that is watched.</summary>
/// <param name="WorkId">Names this piece of work, so that it can be withdrawn.</param>
/// <param name="VisitId">The visit whose shape it was set to; null where it was set by eye.</param>
public sealed record SaddleSet(
    Guid WorkId, Guid HorseId, Guid? VisitId, IReadOnlyList<Adjustment> Done, bool NewSaddle, DateTimeOffset TakenAt, Guid By) : ISaddleWork;

/// <summary>The saddle was altered for the horse: also a new baseline, since it was made for the shape of that day.</summary>
public sealed record SaddleAltered(
    Guid WorkId, Guid HorseId, Guid? VisitId, IReadOnlyList<Adjustment> Done, bool Reflocked, DateTimeOffset TakenAt, Guid By) : ISaddleWork;

public sealed record SaddleWorkWithdrawn(Guid WorkId, Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>The saddle is no longer used on the horse: nothing about it is watched any more.</summary>
public sealed record SaddleTakenOff(Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>Work on a saddle for one horse.</summary>
public interface ISaddleWork : ISaddleEvent
{
    Guid WorkId { get; }

    Guid HorseId { get; }

    Guid? VisitId { get; }

    IReadOnlyList<Adjustment> Done { get; }
}

/// <summary>One thing that was done to one part.</summary>
/// <param name="Part">For example <c>tree</c>, <c>panel-front</c>, <c>flocking</c>, <c>shim</c>.</param>
/// <param name="Side">left, right or null for both.</param>
/// <param name="From">Before, in the workshop's own marks or words; null where unknown.</param>
/// <param name="To">After.</param>
/// <param name="Gauge">The gauge table of the marks, when they are marks of one.</param>
public sealed record Adjustment(string Part, string? Side, string? From, string? To, string? Gauge = null);
