using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>A visit that was withdrawn, or merged into another, stands again under an id of its own, with what stood of it. What an
/// apprentice puts back waits to be confirmed.</summary>
public sealed class PutVisitBack(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid HorseId, Guid VisitId);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var command = new RestoreVisit(given.VisitId, context.Actor);
        return commands.ExecuteOnHistory<Horse>(
            context,
            given.HorseId,
            (horse, history) =>
                EnteredByApprentices.Mark(
                    HorseDecider.Decide(horse, command, history, context.Now),
                    VisitIds.RestoredId(given.VisitId),
                    by
                ),
            ct
        );
    }
}
