using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>Composes letters in their readers' languages, in the practice's own words where it has any.</summary>
public sealed class LetterWriter(
    HorseLetters aboutOne,
    DigestLetters aboutMany,
    ReminderQueries reminders,
    PracticeQueries practices,
    ILetterLinks links,
    TimeProvider time
)
{
    private const string Gone = "What the letter was about is gone.";

    /// <returns>The letter, or why it cannot be written.</returns>
    public async Task<(LetterContent? Content, string? Why)> Compose(string practice, Letter letter, CancellationToken ct)
    {
        var person = await practices.Person(practice, letter.To, ct);
        if (LetterGate.Unreachable(person, letter.Kind) is { } cannot)
            return (null, cannot);
        if (await practices.Load(practice, ct) is not { } known)
            return (null, Gone);
        if (await Draft(practice, letter, person!, ct) is not { } draft)
            return (null, Gone);
        var contact = await practices.Contact(practice, ct);
        draft = Headed(draft, contact);
        var model = draft.Model with { UnsubscribeUrl = links.Stop(practice, person!.Id, letter.Kind, person.Language) };
        var written = LetterBook.Write(letter.Kind, model, Own(known, letter.Kind, person.Language));
        return (
            new LetterContent(
                letter.Id,
                person.Name,
                person.Email!.Trim(),
                written.Subject,
                written.Html,
                written.Text,
                [.. written.Images.Select(i => new LetterPicture(i.ContentId, i.AltText, i.Png, i.MediaType))],
                model.UnsubscribeUrl,
                time.GetUtcNow(),
                Calendar: draft.Calendar,
                ReplyTo: contact?.ReplyTo
            ),
            null
        );
    }

    private async Task<LetterDraft?> Draft(string practice, Letter letter, Person reader, CancellationToken ct)
    {
        if (letter.ReminderId is not { } id)
            return await aboutMany.Draft(practice, letter.Kind, letter.On!.Value, reader, ct);
        return await reminders.Load(practice, id, ct) is { } reminder
            ? await aboutOne.Draft(practice, letter.Kind, reminder, reader, ct)
            : null;
    }

    /// <summary>As it would look: its links lead nowhere and nobody gets it.</summary>
    /// <param name="source">Words to try; null takes those in force.</param>
    /// <param name="nowhere">Where its links lead.</param>
    /// <exception cref="LetterTemplateException">The words cannot be used.</exception>
    public static ComposedLetter Try(
        Practice practice,
        PracticeContact? contact,
        LetterKind kind,
        string language,
        LetterDraft draft,
        string? source,
        string nowhere
    )
    {
        var model = Headed(draft, contact).Model with
        {
            UnsubscribeUrl = nowhere,
            Answers = draft.Model.Answers is null ? null : new LetterAnswers(nowhere, nowhere, nowhere),
        };
        return LetterBook.Write(kind, model, source is null ? Own(practice, kind, language) : new LetterTemplate(source));
    }

    /// <summary>Under the practice's picture, and with how it is reached.</summary>
    private static LetterDraft Headed(LetterDraft draft, PracticeContact? contact) =>
        contact is null
            ? draft
            : draft with
            {
                Model = draft.Model with { PracticeContact = contact.InOneLine(), Mark = Mark(contact, draft.Model.PracticeName) },
            };

    private static LetterImage? Mark(PracticeContact contact, string practiceName)
    {
        if (contact.Picture is not { } picture)
            return null;
        var scale = Math.Min(1, Math.Min(HighestMark / picture.Height, WidestMark / picture.Width));
        return new LetterImage(
            "mark@letter",
            picture.Bytes,
            practiceName,
            Math.Max(1, (int)(picture.Width * scale)),
            Math.Max(1, (int)(picture.Height * scale))
        )
        {
            MediaType = picture.MediaType,
        };
    }

    /// <summary>CSS pixels.</summary>
    private const double HighestMark = 56;

    /// <summary>CSS pixels.</summary>
    private const double WidestMark = 240;

    /// <summary>The practice's own words for this kind and language; null takes the shipped ones.</summary>
    public static LetterTemplate? Own(Practice practice, LetterKind kind, string language) =>
        practice.Templates.GetValueOrDefault(LetterTemplateChanged.KeyOf(kind, ReportLanguage.For(language).Tag)) is { } own
            ? new LetterTemplate(own.Source)
            : null;
}
