using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>The horse has another owner, or none that is known.</summary>
public sealed class ChangeOwnerOfHorse(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid HorseId, Guid? OwnerId, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new ChangeOwner(given.OwnerId, given.From ?? context.Now, context.Actor), context.Now),
            ct
        );
    }
}
