using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A person takes a part in the care of a horse.</summary>
public sealed class AssignCareRole(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid HorseId, Guid PersonId, CareRole Role, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                HorseDecider.Decide(
                    horse,
                    new TakeCareRole(given.PersonId, given.Role, given.From ?? context.Now, context.Actor),
                    context.Now
                ),
            ct
        );
    }
}
