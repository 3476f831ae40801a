using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>The horse stands in another yard.</summary>
public sealed class MoveHorseToYard(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid HorseId, Guid? YardId, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new ChangeYard(given.YardId, given.From ?? context.Now, context.Actor), context.Now),
            ct
        );
    }
}
