using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>Whether the practice still knows to whom it wrote: with whoever was erased the links in their letters end.</summary>
public sealed class LetterReaders(PracticeQueries practices, ReminderQueries reminders)
{
    /// <param name="person">Whom the letter was to; null of letters of an earlier release, whose links said the reminder only.</param>
    public async Task<bool> Knows(string practice, Guid? person, Guid? reminder, CancellationToken ct)
    {
        if (person is { } reader)
            return await practices.Person(practice, reader, ct) is not null;
        if (reminder is not { } about)
            return false;
        var to = (await reminders.LettersOf(practice, about, ct)).Select(l => l.To).Distinct();
        return (await practices.People(practice, to, ct)).Count > 0;
    }
}
