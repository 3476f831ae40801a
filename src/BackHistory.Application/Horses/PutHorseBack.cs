using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A registration that was withdrawn by mistake stands again, with all that stood in it.</summary>
public sealed class PutHorseBack(NotifyingCommands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid HorseId, string Reason);

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        // While it was withdrawn its numbers were free, and another horse may have been told by them since.
        if (
            await horses.Load(context.Tenant, given.HorseId, ct) is { Withdrawn: true, MergedInto: null }
            && await horses.Identity(context.Tenant, given.HorseId, ct) is { } own
            && await horses.SameIdentity(context.Tenant, own, ct) is { } other
        )
            return new Outcome(given.HorseId, 0, 0, NumberTaken(other));
        var restore = new RestoreHorse(given.Reason, context.Actor);
        return await commands.Execute<Horse>(context, given.HorseId, horse => HorseDecider.Decide(horse, restore, context.Now), ct);
    }

    private static Refused NumberTaken((string Name, bool ByChip) other) =>
        new(
            "identity-taken",
            $"{other.Name} has the {(other.ByChip ? "microchip" : "passport")} number of this horse by now. Nothing was saved: take the "
                + "number out there first, if it is not that one's.",
            RefusalKind.Conflict
        );
}
