using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Store;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Sharing;

/// <summary>With whom a horse is shared, and what stands beside it when that is decided.</summary>
public sealed class SharingWork(Commands commands, HorseQueries horses, PracticeQueries practices)
{
    /// <summary>No finding rests on who sees a horse, so nobody is told to look at it again.</summary>
    /// <param name="decide">Pure; see <see cref="Commands.Execute{TState}"/>.</param>
    public Task<Outcome> Decide(CommandContext context, Guid horseId, Func<HorseSharing?, Decided> decide, CancellationToken ct) =>
        commands.Execute(context, HorseSharing.IdOf(horseId), decide, ct);

    /// <summary>The horse, null where there is none, and the practice's day.</summary>
    internal async Task<(Horse? Horse, DateOnly Today)> Horse(CommandContext context, Guid horseId, CancellationToken ct)
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById((await practices.Load(context.Tenant, ct))!.TimeZone);
        return (await horses.Load(context.Tenant, horseId, ct), PracticeClock.Day(context.Now, zone));
    }
}
