using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>What was noted of the care was never so.</summary>
public sealed class WithdrawCareNote(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid NoteId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new WithdrawCare(given.NoteId, given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
