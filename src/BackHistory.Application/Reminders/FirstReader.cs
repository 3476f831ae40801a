using BackHistory.History.Practices;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Who hears of a horse first: its owner, or the manager where it has none.</summary>
public sealed class FirstReader(ReminderQueries reminders, HorseQueries horses, PracticeQueries practices)
{
    public async Task<Guid?> OfHorse(string practice, Guid? ownerId, CancellationToken ct) =>
        ownerId ?? (await practices.InRole(practice, PersonRole.Manager, ct)).Select(p => (Guid?)p.Id).Order().FirstOrDefault();

    public async Task<Guid?> OfReminder(string practice, Guid reminderId, CancellationToken ct)
    {
        if (await reminders.Load(practice, reminderId, ct) is not { } reminder)
            return null;
        return await OfHorse(practice, (await horses.Profile(practice, reminder.HorseId, ct))?.OwnerId, ct);
    }
}
