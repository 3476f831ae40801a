using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle is sold and leaves the practice's care: it comes off every horse, trials and pads end, and it is the
/// buyer's.</summary>
public sealed class RecordSaddleSale(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="BuyerId">Null where the practice does not know them.</param>
    /// <param name="At">Now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid? BuyerId, string? Note, DateTimeOffset? At);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(
                    saddle,
                    new SellSaddle(given.BuyerId, given.Note, given.At ?? context.Now, context.Actor),
                    context.Now
                ),
            ct
        );
    }
}
