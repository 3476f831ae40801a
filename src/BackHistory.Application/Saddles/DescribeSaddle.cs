using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>What stands in its registration is put right, with the reason.</summary>
public sealed class DescribeSaddle(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    private static readonly Refused ChangedElsewhere = new(
        "changed-elsewhere",
        "The owner is changed by a request of its own, with the day of the change. Nothing was saved; leave the owner out here, or as it "
            + "is.",
        Place: "ownerId"
    );

    /// <param name="OwnerId">As it stands, where it was sent along.</param>
    public sealed record Input(Guid SaddleId, SaddleDetails Details, string Reason, Guid? OwnerId = null);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            // Taken in silence it would be lost.
            saddle =>
                saddle is not null && given.OwnerId is { } owner && owner != saddle.OwnerId
                    ? ChangedElsewhere
                    : SaddleDecider.Decide(saddle, new CorrectSaddle(given.Details, given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
