using BackHistory.Application.Letters;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>What letters say: those about one horse, and those about many.</summary>
public sealed class LetterDrafts(HorseLetters horses, DigestLetters digests, ReminderQueries reminders) : ILetterDrafts
{
    public async Task<LetterDraft?> Draft(string practice, Letter letter, Person reader, CancellationToken ct)
    {
        if (letter.ReminderId is not { } id)
            return await digests.Draft(practice, letter.Kind, letter.On!.Value, reader, ct);
        return await reminders.Load(practice, id, ct) is { } reminder
            ? await horses.Draft(practice, letter.Kind, reminder, reader, ct)
            : null;
    }

    public static ReportLanguage LanguageOf(Person person) => ReportLanguage.Of(person.Language);
}
