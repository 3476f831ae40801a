using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>A visit was entered at the wrong horse: it is withdrawn there and stands at the one that was measured, or neither.</summary>
public sealed class GiveVisitToHorse(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid VisitId, Guid ToHorseId, string Reason);

    /// <returns>The outcome for the horse that was measured.</returns>
    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var command = new GiveVisit(given.VisitId, given.ToHorseId, given.Reason, context.Actor);
        return commands.ExecuteOnBoth<Horse>(
            context,
            given.HorseId,
            given.ToHorseId,
            (horse, to, history) => HorseDecider.Decide(horse, command, to, history, context.Now),
            ct
        );
    }
}
