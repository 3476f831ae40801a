using BackHistory.History.Files;

namespace BackHistory.History.Saddles;

/// <summary>What can happen to a saddle.</summary>
public interface ISaddleEvent : IHappened;

/// <summary>What happens to a saddle on one horse, so that the horse's own read models follow.</summary>
public interface ISaddleOnHorse : ISaddleEvent
{
    Guid HorseId { get; }
}

/// <summary>Work on a saddle for one horse: each is a baseline, since it was made for the shape of that day.</summary>
public interface ISaddleWork : ISaddleOnHorse
{
    /// <summary>Names this piece of work, so that it can be corrected or withdrawn.</summary>
    Guid WorkId { get; }

    /// <summary>The visit whose shape it was made to; null where it was made by eye.</summary>
    Guid? VisitId { get; }

    IReadOnlyList<Adjustment> Done { get; }
}

/// <summary>A saddle became known to the practice.</summary>
/// <param name="Label">What the practice calls it, for example its workshop number.</param>
/// <param name="Tree">The tree as the workshop describes it.</param>
/// <param name="Gauge">The key of the gauge table in which its tree is read, when it has one.</param>
public sealed record SaddleRegistered(
    Guid SaddleId,
    string Label,
    string? Tree,
    string? Panel,
    string? Girthing,
    string? Gauge,
    Guid? OwnerId,
    DateTimeOffset TakenAt,
    Guid By
) : ISaddleEvent;

/// <summary>Tree, panel, girthing and gauge as they stand after a correction.</summary>
public sealed record SaddleDetailsCorrected(
    string Label,
    string? Tree,
    string? Panel,
    string? Girthing,
    string? Gauge,
    string Reason,
    DateTimeOffset TakenAt,
    Guid By
) : ISaddleEvent;

/// <summary>It was registered by mistake, or registered twice.</summary>
public sealed record SaddleWithdrawn(string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>The saddle has another owner.</summary>
public sealed record SaddleOwnerChanged(Guid? OwnerId, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>The parts of the saddle that can be adjusted, whole, from now on: what each is, and the gauge in which it is read.</summary>
public sealed record SaddlePartsListed(IReadOnlyList<SaddlePart> Parts, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>The saddle was set to a horse, each part before and after: a new baseline for everything that is watched.</summary>
public sealed record SaddleSet(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    IReadOnlyList<Adjustment> Done,
    bool NewSaddle,
    DateTimeOffset TakenAt,
    Guid By
) : ISaddleWork;

/// <summary>The saddle was altered for the horse, each part before and after.</summary>
public sealed record SaddleAltered(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    IReadOnlyList<Adjustment> Done,
    bool Reflocked,
    DateTimeOffset TakenAt,
    Guid By
) : ISaddleWork;

/// <summary>The panels were flocked for the horse, with what, wholly or in places; they settle in the first weeks.</summary>
/// <param name="Material">For example <c>wool</c>.</param>
/// <param name="Whole">All old flocking came out; otherwise some was added in the places that <paramref name="Done"/> names.</param>
public sealed record SaddleFlocked(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    string Material,
    bool Whole,
    IReadOnlyList<Adjustment> Done,
    DateTimeOffset TakenAt,
    Guid By
) : ISaddleWork;

/// <summary>A piece of work was recorded wrongly and another stands in its place.</summary>
public sealed record SaddleWorkCorrected(Guid WorkId, Guid HorseId, Guid ReplacedBy, string Reason, DateTimeOffset TakenAt, Guid By)
    : ISaddleOnHorse;

/// <summary>A piece of work does not stand.</summary>
public sealed record SaddleWorkWithdrawn(Guid WorkId, Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleOnHorse;

/// <summary>The saddle is no longer used on the horse: nothing about it is watched any more.</summary>
public sealed record SaddleTakenOff(Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleOnHorse;

/// <summary>The saddle went to another horse: it is no longer used on the first, and not yet set to the second.</summary>
public sealed record SaddleMoved(Guid FromHorseId, Guid HorseId, string? Reason, DateTimeOffset TakenAt, Guid By) : ISaddleOnHorse;

/// <summary>The saddle was lent for a horse to try.</summary>
public sealed record SaddleTrialBegun(Guid TrialId, Guid HorseId, DateOnly? Until, DateTimeOffset TakenAt, Guid By) : ISaddleOnHorse;

/// <summary>A trial ended: the saddle was kept or came back.</summary>
public sealed record SaddleTrialEnded(Guid TrialId, Guid HorseId, bool Kept, string? Reason, DateTimeOffset TakenAt, Guid By)
    : ISaddleOnHorse;

/// <summary>A pad, with its shims where it has any, is used under the saddle on the horse from now on.</summary>
public sealed record PadFitted(Guid PadId, Guid HorseId, string Pad, IReadOnlyList<Shim> Shims, DateTimeOffset TakenAt, Guid By)
    : ISaddleOnHorse;

/// <summary>A pad is no longer used under the saddle on the horse.</summary>
public sealed record PadRemoved(Guid PadId, Guid HorseId, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleOnHorse;

/// <summary>A photograph or a document was attached to the saddle.</summary>
public sealed record SaddleFileAttached(AttachedFile File, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>A file is no longer shown with the saddle.</summary>
public sealed record SaddleFileRemoved(Guid FileId, string Reason, DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

/// <summary>One thing that was done to one part.</summary>
/// <param name="Part">For example <c>tree</c>, <c>panel-front</c>, <c>flocking</c>, <c>shim</c>.</param>
/// <param name="Side">left, right or null for both.</param>
/// <param name="From">Before, in the workshop's own marks or words; null where unknown.</param>
/// <param name="To">After.</param>
/// <param name="Gauge">The gauge table of the marks, when they are marks of one.</param>
/// <param name="Proposed">What the tracings asked for; null where nothing was proposed.</param>
/// <param name="Because">Why it was set to something else than was proposed.</param>
public sealed record Adjustment(
    string Part,
    string? Side,
    string? From,
    string? To,
    string? Gauge = null,
    string? Proposed = null,
    string? Because = null
)
{
    /// <summary>The part under which a remark on the whole work stands.</summary>
    public const string Note = "note";
}

/// <summary>A part of a saddle that can be adjusted.</summary>
/// <param name="Part">As adjustments name it.</param>
/// <param name="What">For whoever looks at the saddle: what it is and how it is adjusted.</param>
/// <param name="Gauge">The key of the gauge table in which it is read.</param>
public sealed record SaddlePart(string Part, string? Side, string What, string? Gauge);

/// <summary>A piece put into a pad.</summary>
/// <param name="Place">For example <c>front</c>.</param>
/// <param name="Side">left, right or null for both.</param>
public sealed record Shim(string Place, string? Side, double ThicknessMm);
