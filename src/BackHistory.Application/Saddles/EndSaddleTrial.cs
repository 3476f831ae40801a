using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A trial ends: the saddle is kept, or it comes back.</summary>
public sealed class EndSaddleTrial(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid TrialId, bool Kept, string? Reason, DateTimeOffset? At);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(
                    saddle,
                    new EndTrial(given.TrialId, given.Kept, given.Reason, given.At ?? context.Now, context.Actor),
                    context.Now
                ),
            ct
        );
    }
}
