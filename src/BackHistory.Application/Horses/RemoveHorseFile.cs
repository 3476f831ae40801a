using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A file of a horse is shown no longer.</summary>
public sealed class RemoveHorseFile(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid FileId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new RemoveFile(given.FileId, given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
