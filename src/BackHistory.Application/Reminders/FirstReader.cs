using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Who hears of a horse first, as <see cref="Readers"/> decides it. Where a letter is owed by it, it is asked in the
/// transaction, so that a horse that is sold at that moment is not written about to whoever had it before; pages say beforehand who it
/// will be.</summary>
public sealed class FirstReader(ReminderQueries reminders, PracticeQueries practices)
{
    /// <summary>Of a visit to a horse.</summary>
    public static async Task<Guid?> OfHorse(Held held, Guid horseId) => (await Of(held, horseId)).First;

    /// <summary>Of the visit that a reminder asks for.</summary>
    public async Task<Guid?> OfVisit(Held held, string practice, Guid reminderId, CancellationToken ct) =>
        // Which horse a reminder is about never changes.
        await reminders.Load(practice, reminderId, ct) is { } reminder
            ? await OfHorse(held, reminder.HorseId)
            : null;

    /// <summary>Of what a reminder found.</summary>
    public async Task<Guid?> OfFinding(Held held, string practice, Guid reminderId, CancellationToken ct) =>
        await reminders.Load(practice, reminderId, ct) is { } reminder ? (await Of(held, reminder.HorseId)).FirstReaderOf(reminder) : null;

    /// <summary>Of a visit to a horse, before it is booked; null where nobody is known.</summary>
    public async Task<Person?> OfVisit(string practice, Guid horseId, CancellationToken ct)
    {
        var horses = await reminders.Horses(practice, [horseId], ct);
        return (await OfVisits(practice, horses.Values, ct)).GetValueOrDefault(horseId);
    }

    /// <returns>By horse; one that nobody would hear of is left out.</returns>
    public async Task<IReadOnlyDictionary<Guid, Person>> OfVisits(
        string practice,
        IEnumerable<HorseProfile> horses,
        CancellationToken ct
    ) => await Named(practice, horses.Select(h => (h.Id, h.OwnerId, (Reminder?)null)), ct);

    /// <summary>To whom a reminder's letter would go once more.</summary>
    /// <param name="findings">Each with the owner of its horse.</param>
    /// <returns>By reminder; one about which nobody would be written to is left out.</returns>
    public async Task<IReadOnlyDictionary<Guid, Person>> OfFindings(
        string practice,
        IEnumerable<(Reminder Reminder, Guid? Owner)> findings,
        CancellationToken ct
    ) => await Named(practice, findings.Select(f => (f.Reminder.Id, f.Owner, (Reminder?)f.Reminder)), ct);

    private async Task<IReadOnlyDictionary<Guid, Person>> Named(
        string practice,
        IEnumerable<(Guid Of, Guid? Owner, Reminder? Finding)> asked,
        CancellationToken ct
    )
    {
        var manager = Readers.ManagerOf(await practices.InRole(practice, PersonRole.Manager, ct))?.Id;
        var ids = asked
            .Select(a => (a.Of, Reader: Readers.Of(a.Owner, manager) is var r && a.Finding is { } about ? r.FirstReaderOf(about) : r.First))
            .ToList();
        var people = (await practices.People(practice, ids.Select(i => i.Reader).OfType<Guid>(), ct)).ToDictionary(p => p.Id);
        return ids.Where(i => i.Reader is { } id && people.ContainsKey(id)).ToDictionary(i => i.Of, i => people[i.Reader!.Value]);
    }

    private static async Task<Readers> Of(Held held, Guid horseId)
    {
        var owner = (await held.Stream<Horse>(horseId))?.OwnerId;
        return Readers.Of(owner, (await held.FirstInRole(PersonRole.Manager))?.Id);
    }
}
