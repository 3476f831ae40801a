using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>The work of a horse from a day on.</summary>
public sealed class ChangeWorkLoad(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid HorseId, Guid WorkId, WorkLoad Load, string? Discipline, double? HoursPerWeek, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                HorseDecider.Decide(
                    horse,
                    new ChangeWork(
                        given.WorkId,
                        given.Load,
                        given.Discipline,
                        given.HoursPerWeek,
                        given.From ?? context.Now,
                        context.Actor
                    ),
                    context.Now
                ),
            ct
        );
    }
}
