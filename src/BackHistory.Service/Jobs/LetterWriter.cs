using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters;
using BackHistory.Service.Reminders;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using OwedLetter = BackHistory.History.Reminders.Letter;

namespace BackHistory.Service.Jobs;

/// <summary>Composes a letter in its reader's language, in the practice's own words where it has any.</summary>
public sealed class LetterWriter(
    HorseLetters horses,
    DigestLetters digests,
    ReminderQueries reminders,
    PracticeQueries practices,
    AnswerLinks links,
    TimeProvider time
)
{
    /// <returns>The letter, or why it cannot be written.</returns>
    public async Task<(History.Reminders.LetterContent? Content, string? Why)> Compose(
        string practice,
        OwedLetter letter,
        CancellationToken ct
    )
    {
        var person = await practices.Person(practice, letter.To, ct);
        if (Unreachable(person, letter.Kind) is { } cannot)
            return (null, cannot);
        if (await practices.Load(practice, ct) is not { } known)
            return (null, "What the letter was about is gone.");

        var draft = letter.ReminderId is { } id
            ? await reminders.Load(practice, id, ct) is { } reminder
                ? await horses.Draft(practice, letter.Kind, reminder, person!, ct)
                : null
            : await digests.Draft(practice, letter.Kind, letter.On!.Value, person!, ct);
        if (draft is null)
            return (null, "What the letter was about is gone.");
        var content = draft.Content with { UnsubscribeUrl = links.Stop(practice, person!.Id, letter.Kind, person.Language) };
        var written = LetterBook.Write(KindOf(letter.Kind), content, Own(known, letter.Kind, person.Language));
        return (
            new History.Reminders.LetterContent(
                letter.Id,
                person!.Name,
                person.Email!.Trim(),
                written.Subject,
                written.Html,
                written.Text,
                [.. written.Images.Select(i => new LetterPicture(i.ContentId, i.AltText, i.Png))],
                content.UnsubscribeUrl,
                time.GetUtcNow(),
                Calendar: draft.Calendar
            ),
            null
        );
    }

    /// <summary>Why this reader can get no such letter; null when they can.</summary>
    public static string? Unreachable(Person? person, History.Reminders.LetterKind kind) =>
        person is null ? "The person is no longer known here."
        : string.IsNullOrWhiteSpace(person.Email) ? "The person has no e-mail address."
        : !EmailAddress.TryParse(person.Email, out _) ? "The person's e-mail address is not valid: correct it, then tell again."
        : person.Stopped.Contains(kind) ? "The person asked for no more letters of this kind."
        : null;

    /// <summary>The practice's own words for this kind and language; null takes the shipped ones.</summary>
    public static LetterTemplate? Own(History.Practices.Practice practice, History.Reminders.LetterKind kind, string language) =>
        practice.Templates.GetValueOrDefault(LetterTemplateChanged.KeyOf(kind, ReportLanguage.Of(language).Tag)) is { } own
            ? new LetterTemplate(own.Source)
            : null;

    public static ReportLanguage LanguageOf(Person person) => ReportLanguage.Of(person.Language);

    public static Reports.Letters.LetterKind KindOf(History.Reminders.LetterKind kind) =>
        Application.Reminders.LetterKinds.TemplateOf(kind);
}

/// <summary>A letter before it is put into words.</summary>
public sealed record LetterDraft(Reports.Letters.LetterContent Content, LetterCalendar? Calendar = null);
