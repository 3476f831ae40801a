using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>An entry that was withdrawn or corrected stands again, in the place of what was put there.</summary>
public sealed class PutEntryBack(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid VisitId, Guid EntryId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var command = new RestoreEntry(given.VisitId, given.EntryId, given.Reason, context.Actor);
        return commands.ExecuteOnHistory<Horse>(
            context,
            given.HorseId,
            (horse, history) => HorseDecider.Decide(horse, command, history, context.Now),
            ct
        );
    }
}
