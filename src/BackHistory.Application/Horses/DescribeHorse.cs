using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>What stands in its registration is put right, with the reason.</summary>
public sealed class DescribeHorse(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    private static readonly Refused ChangedElsewhere = new(
        "changed-elsewhere",
        "Owner and yard are changed by requests of their own, with the day of the change. Nothing was saved; leave them out here, or as "
            + "they are."
    );

    /// <param name="OwnerId">As it stands, where it was sent along.</param>
    /// <param name="YardId">As it stands, where it was sent along.</param>
    public sealed record Input(Guid HorseId, HorseDetails Details, string Reason, Guid? OwnerId = null, Guid? YardId = null);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                Moves(horse, given)
                    ? ChangedElsewhere
                    : HorseDecider.Decide(horse, new CorrectHorse(given.Details, given.Reason, context.Actor), context.Now),
            ct
        );
    }

    /// <summary>Taken in silence it would be lost.</summary>
    private static bool Moves(Horse? horse, Input given) =>
        horse is not null && ((given.OwnerId is { } owner && owner != horse.OwnerId) || (given.YardId is { } yard && yard != horse.YardId));
}
