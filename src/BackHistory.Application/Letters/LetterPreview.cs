using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Reports.Letters.Content;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>A letter as it would be written about a real horse, by words that need not be in force. Its links lead nowhere and nothing is
/// sent.</summary>
public sealed class LetterPreview(
    HorseLetters horses,
    DigestLetters digests,
    ReminderQueries reminders,
    PracticeQueries practices,
    ILetterLinks links,
    TimeProvider time
)
{
    private static readonly Refused NoHorse = new(
        "nothing-to-show",
        "No horse of this practice has had a reason for such a letter yet, so there is none to show it on.",
        RefusalKind.NotFound
    );

    /// <param name="source">Null takes the words in force.</param>
    /// <param name="horseId">Null takes the horse that last had such a reason.</param>
    public async Task<(ComposedLetter? Letter, Refused? Refused)> Compose(
        string practice,
        LetterKind kind,
        string language,
        string? source,
        Guid? horseId,
        Guid readerId,
        CancellationToken ct
    )
    {
        if (await practices.Load(practice, ct) is not { } known)
            return (null, PracticeRefusals.NoSuchPractice);
        var reader = await Reader(practice, readerId, language, ct);
        if (await Draft(practice, kind, horseId, reader, known, ct) is not { } draft)
            return (null, NoHorse);
        return Written(known, await practices.Contact(practice, ct), kind, language, draft, source);
    }

    /// <summary>A letter that is owed, as it would leave now.</summary>
    public async Task<(ComposedLetter? Letter, Refused? Refused)> OfOwed(string practice, Guid letterId, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } known)
            return (null, PracticeRefusals.NoSuchPractice);
        if (
            await reminders.Letter(practice, letterId, ct) is not { ReminderId: { } reminderId } letter
            || await reminders.Load(practice, reminderId, ct) is not { } reminder
        )
            return (null, ReminderRefusals.NoSuchLetter);
        var person = await practices.Person(practice, letter.To, ct);
        if (LetterGate.Unreachable(person, letter.Kind) is { } cannot)
            return (null, new Refused("no-reader", cannot, RefusalKind.Conflict));
        if (await horses.Draft(practice, letter.Kind, reminder, person!, ct) is not { } draft)
            return (null, ReminderRefusals.NoSuchLetter);
        return Written(known, await practices.Contact(practice, ct), letter.Kind, person!.Language, draft, null);
    }

    private (ComposedLetter? Letter, Refused? Refused) Written(
        History.Practices.Practice known,
        PracticeContact? contact,
        LetterKind kind,
        string language,
        LetterDraft draft,
        string? source
    )
    {
        try
        {
            return (LetterWriter.Try(known, contact, kind, language, draft, source, links.Nowhere), null);
        }
        catch (LetterTemplateException e)
        {
            return (null, SetLetterTemplate.Bad(e));
        }
    }

    private async Task<Person> Reader(string practice, Guid id, string language, CancellationToken ct)
    {
        var person =
            await practices.Person(practice, id, ct)
            ?? new Person(id, ReportLanguage.For(language)["letter.reader"], null, null, null, PersonRole.Owner);
        return person with { Language = language, Email = person.Email ?? "reader@backhistory.invalid" };
    }

    private async Task<LetterDraft?> Draft(
        string practice,
        LetterKind kind,
        Guid? horseId,
        Person reader,
        History.Practices.Practice known,
        CancellationToken ct
    )
    {
        if (LetterKinds.DefinitionOf(kind).IsList)
            return await digests.Draft(practice, kind, PracticeClock.Day(known, time.GetUtcNow()), reader, ct);
        if (await reminders.Latest(practice, [.. LetterKinds.DefinitionOf(kind).Rules], horseId, ct) is not { } reminder)
            return null;
        // A booking that nobody made yet, to see how it would be said.
        if (LetterKinds.DefinitionOf(kind).SaysBooking && reminder.BookedFor is null)
            reminder = reminder with
            {
                BookingId = reminder.Id,
                BookedFor = time.GetUtcNow().AddDays(7),
                BookedBefore = time.GetUtcNow().AddDays(5),
            };
        return await horses.Draft(practice, kind, reminder, reader, ct);
    }
}
