using BackHistory.Application.Files;
using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A photograph or a document of a horse, or of one of its visits.</summary>
public sealed class AttachHorseFile(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid HorseId, NewFile File);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, given.File.Command(context), context.Now),
            ct
        );
    }
}
