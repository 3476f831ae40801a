using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>A practice's first letters wait until somebody looked at them and let them go: nobody is to be written to by
/// surprise.</summary>
public sealed class FirstLetters(ReminderQueries reminders, PracticeQueries practices)
{
    /// <summary>More than any practice owes at once; those that would not leave are among them.</summary>
    private const int Most = 5000;

    /// <summary>Whether letters to people outside may leave. A practice that wrote letters before there was such a question has let them
    /// go.</summary>
    public async Task<bool> MayLeave(string tenant, History.Practices.Practice practice, CancellationToken ct) =>
        practice.LettersReleasedAt is not null || await reminders.AnySent(tenant, ct);

    /// <summary>The letters to people outside that are owed and would leave, oldest first.</summary>
    public async Task<IReadOnlyList<Letter>> Waiting(string tenant, CancellationToken ct)
    {
        var owed = await reminders.Owed(tenant, Most, ct);
        var readers = (await practices.People(tenant, owed.Select(l => l.To), ct)).ToDictionary(p => p.Id);
        var about = await reminders.Load(tenant, owed.Select(l => l.ReminderId).OfType<Guid>(), ct);
        return
        [
            .. owed.Where(letter =>
                LetterGate.WaitsForRelease(
                    letter,
                    letter.ReminderId is { } id ? about.GetValueOrDefault(id) : null,
                    readers.GetValueOrDefault(letter.To)
                )
            ),
        ];
    }
}
