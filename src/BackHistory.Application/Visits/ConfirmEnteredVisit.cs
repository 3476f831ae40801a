using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>Somebody who answers for it has looked at what an apprentice entered.</summary>
public sealed class ConfirmEnteredVisit(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid VisitId);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new ConfirmVisit(given.VisitId, context.Actor), context.Now),
            ct
        );
    }
}
