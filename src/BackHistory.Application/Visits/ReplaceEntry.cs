using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>Another entry in the place of a wrong one.</summary>
public sealed class ReplaceEntry(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid VisitId, Guid EntryId, VisitEntry Replacement, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                HorseDecider.Decide(
                    horse,
                    new CorrectEntry(given.VisitId, given.EntryId, given.Replacement, given.Reason, context.Actor),
                    context.Now
                ),
            ct
        );
    }
}
