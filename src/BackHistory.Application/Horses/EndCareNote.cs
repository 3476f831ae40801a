using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>What was noted of the care is over.</summary>
public sealed class EndCareNote(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid HorseId, Guid NoteId, DateOnly Until);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new EndCare(given.NoteId, given.Until, context.Actor), context.Now),
            ct
        );
    }
}
