using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle is no longer used on a horse.</summary>
public sealed class TakeSaddleOff(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid HorseId, string Reason, DateTimeOffset? At);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, new TakeOff(given.HorseId, given.Reason, context.Actor, given.At), context.Now),
            ct
        );
    }
}
