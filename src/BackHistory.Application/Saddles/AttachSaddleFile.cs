using BackHistory.Application.Files;
using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A photograph or a document of a saddle.</summary>
public sealed class AttachSaddleFile(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid SaddleId, NewFile File);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, given.File.Command(context), context.Now),
            ct
        );
    }
}
