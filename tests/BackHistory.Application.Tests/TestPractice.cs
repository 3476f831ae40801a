using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Testing;

namespace BackHistory.Application.Tests;

/// <summary>A practice with its people, whatever they do here.</summary>
internal sealed class TestPractice(PracticeActs acts, string name)
{
    private int _keys;

    /// <summary>The tenant.</summary>
    public string Name => name;

    public TestYard Yard { get; } = new(acts.Store, name);

    /// <summary>Somebody of the practice asks for an act, at the hour of the clock.</summary>
    /// <param name="key">The same key is the same act; one of its own when null.</param>
    public Caller By(PracticeRole role, string? key = null, long? expected = null) =>
        new(new CommandContext(name, IdOf(role), key ?? $"act-{++_keys}", "", expected, acts.Time.Now), role);

    public static Guid IdOf(PracticeRole role) => DeterministicId.From("member", role.ToString());

    public Guid Id(string what) => DeterministicId.From(what, name);

    public async Task<Guid> Person(string called, PersonRole role)
    {
        var id = DeterministicId.From("person", name, called);
        await acts.Get<PracticeQueries>().Add(name, new Person(id, called, $"{id:N}@people.invalid", null, null, role), default);
        return id;
    }

    public async Task<Horse> Horse(Guid id) => (await acts.Store.Horses.Load(name, id, default))!;

    public async Task<Reminder> Reminder(Guid id) => (await acts.Store.Reminders.Load(name, id, default))!;

    /// <summary>A horse that was never measured, and the reminder that says so to its owner.</summary>
    /// <returns>The reminder and the letter that it owes.</returns>
    public async Task<(Guid Reminder, Guid Letter)> NeverMeasured(string horseName, Guid owner, DateTimeOffset at)
    {
        var horse = await Yard.Horse(at.AddDays(-200), horseName, owner);
        var id = ReminderIds.IdFor(name, horse, null, ReminderRule.NoVisit, 0);
        var day = ZoneClock.Day(at, TimeZoneInfo.Utc);
        var evidence = Evidence.WithoutMeasure(day, 1, day, $"{horseName} has not been measured yet.");
        var letter = new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.OwnerCheck, owner), LetterKind.OwnerCheck, owner);
        var raise = new RaiseReminder(id, horse, null, ReminderRule.NoVisit, evidence, [letter], Guid.Empty);
        await Yard.Do<Reminder>(id, at, r => ReminderDecider.Decide(r, raise, at));
        return (id, letter.LetterId);
    }
}
