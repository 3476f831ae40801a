using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Store;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Sharing;

/// <summary>With whom a horse is shared, and what stands beside it when that is decided.</summary>
public sealed class SharingWork(Commands commands, PracticeQueries practices)
{
    /// <summary>No finding rests on who sees a horse, so nobody is told to look at it again.</summary>
    /// <param name="decide">Pure; see <see cref="Commands.Execute{TState}"/>.</param>
    public Task<Outcome> Decide(CommandContext context, Guid horseId, Func<HorseSharing?, Decided> decide, CancellationToken ct) =>
        commands.Execute(context, HorseSharing.IdOf(horseId), decide, ct);

    /// <summary>The same where it rests on the horse and on a person, both as they stand then.</summary>
    /// <param name="personOf">Whom it is about, where that follows from the horse.</param>
    /// <param name="decide">Pure; given the horse and the person, null where there is none, and the practice's day.</param>
    /// <param name="toOthers">Whether somebody else than its owner is to see the horse: its owner may have refused that.</param>
    internal async Task<Outcome> Decide(
        CommandContext context,
        Guid horseId,
        Func<Horse?, Guid?> personOf,
        Func<HorseSharing?, Horse?, Person?, DateOnly, Decided> decide,
        CancellationToken ct,
        bool toOthers = false
    )
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById((await practices.Load(context.Tenant, ct))!.TimeZone);
        var today = ZoneClock.Day(context.Now, zone);
        return await commands.ExecuteHolding<HorseSharing>(
            context,
            HorseSharing.IdOf(horseId),
            async held =>
            {
                var horse = await held.Stream<Horse>(horseId);
                var person = personOf(horse) is { } id ? await held.Document<Person>(id) : null;
                var owner = toOthers && horse?.OwnerId is { } whose ? await held.Document<Person>(whose) : null;
                var no = Consents.OfSharing(owner);
                return sharing =>
                {
                    var decided = decide(sharing, horse, person, today);
                    return decided.Refused is null && no is not null ? Decided.No(no) : decided;
                };
            },
            ct
        );
    }
}
