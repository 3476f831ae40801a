using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A pad is no longer used under a saddle.</summary>
public sealed class RemoveSaddlePad(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid PadId, string Reason, DateTimeOffset? At);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(saddle, new RemovePad(given.PadId, given.Reason, given.At ?? context.Now, context.Actor), context.Now),
            ct
        );
    }
}
