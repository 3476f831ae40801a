using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Who hears of a horse first: its owner, or the manager where it has none. Asked in the transaction in which the letter is owed,
/// so that a horse that is sold at that moment is not written about to whoever had it before.</summary>
public sealed class FirstReader(ReminderQueries reminders)
{
    public static async Task<Guid?> OfHorse(Held held, Guid horseId) =>
        (await held.Stream<Horse>(horseId))?.OwnerId ?? (await held.FirstInRole(PersonRole.Manager))?.Id;

    public async Task<Guid?> OfReminder(Held held, string practice, Guid reminderId, CancellationToken ct) =>
        // Which horse a reminder is about never changes.
        await reminders.Load(practice, reminderId, ct) is { } reminder
            ? await OfHorse(held, reminder.HorseId)
            : null;
}
