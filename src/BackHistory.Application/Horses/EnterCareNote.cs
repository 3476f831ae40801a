using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>What explains a change of shape: a lay-off, an illness, a farrier's visit.</summary>
public sealed class EnterCareNote(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="Words">Kept where they can be erased.</param>
    /// <param name="About">The people of whom they tell.</param>
    public sealed record Input(
        Guid HorseId,
        Guid NoteId,
        CareKind Kind,
        DateOnly From,
        DateOnly? Until,
        string? Words,
        IReadOnlyList<Guid>? About
    );

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                HorseDecider.Decide(
                    horse,
                    new NoteCare(given.NoteId, given.Kind, given.From, given.Until, context.Actor, given.Words, given.About),
                    context.Now
                ),
            ct
        );
    }
}
