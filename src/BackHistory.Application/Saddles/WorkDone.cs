using BackHistory.History.Saddles;
using BackHistory.Store;

namespace BackHistory.Application.Saddles;

/// <summary>A piece of work on a saddle, as somebody tells of it.</summary>
/// <param name="VisitId">The visit whose shape it was made to.</param>
/// <param name="Set">It was set to the horse, so that changes are counted from then.</param>
/// <param name="Fresh">New, or re-flocked: it settles in the first weeks.</param>
/// <param name="By">Who did it; whoever enters it when null.</param>
/// <param name="Flocking">With what it was flocked, when that is what was done.</param>
/// <param name="OnBoth">It stays in use on the other horse, where it is on one.</param>
public sealed record WorkDone(
    Guid WorkId,
    Guid HorseId,
    Guid? VisitId,
    bool Set,
    bool Fresh,
    IReadOnlyList<Adjustment> Done,
    DateTimeOffset TakenAt,
    Guid? By,
    Flocking? Flocking,
    bool OnBoth = false
)
{
    internal RecordWork Command(CommandContext context) =>
        new(WorkId, HorseId, VisitId, Set, Fresh, Done, TakenAt, By ?? context.Actor, Flocking, OnBoth);
}
