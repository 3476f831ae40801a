using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>The saddle has another owner, or none that is known.</summary>
public sealed class ChangeOwnerOfSaddle(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid? OwnerId, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(saddle, new ChangeSaddleOwner(given.OwnerId, given.From ?? context.Now, context.Actor), context.Now),
            ct
        );
    }
}
