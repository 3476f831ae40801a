using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A registration that was withdrawn by mistake stands again, with all that stood in it.</summary>
public sealed class PutHorseBack(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid HorseId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var restore = new RestoreHorse(given.Reason, context.Actor);
        return commands.ExecuteHolding<Horse>(
            context,
            given.HorseId,
            async held =>
            {
                // While it was withdrawn its numbers were free, and another horse may have been told by them since.
                var other = await held.Document<HorseIdentity>(given.HorseId) is { } own ? await held.SameNumber(own) : null;
                return horse =>
                    other is { } taken && horse is { Withdrawn: true, MergedInto: null }
                        ? NumberTaken(taken)
                        : HorseDecider.Decide(horse, restore, context.Now);
            },
            ct
        );
    }

    private static Refused NumberTaken((string Name, bool ByChip) other) =>
        new(
            "identity-taken",
            $"{other.Name} has the {(other.ByChip ? "microchip" : "passport")} number of this horse by now. Nothing was saved: take the "
                + "number out there first, if it is not that one's.",
            RefusalKind.Conflict
        );
}
