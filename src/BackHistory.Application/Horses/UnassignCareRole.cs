using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A person's part in the care of a horse ends.</summary>
public sealed class UnassignCareRole(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid HorseId, Guid PersonId, CareRole Role, DateTimeOffset? At);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                HorseDecider.Decide(
                    horse,
                    new EndCareRole(given.PersonId, given.Role, given.At ?? context.Now, context.Actor),
                    context.Now
                ),
            ct
        );
    }
}
