using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A file of a saddle is shown no longer.</summary>
public sealed class RemoveSaddleFile(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, Guid FileId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, new RemoveFile(given.FileId, given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
