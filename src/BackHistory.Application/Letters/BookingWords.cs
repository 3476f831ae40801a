using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports.Calendars;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Letters;

/// <summary>A booked visit as a letter says it: in sentences, and for the reader's calendar. Its hour is that of the yard, so it is said by
/// the practice's clock wherever its reader lives.</summary>
internal sealed class BookingWords(PracticeQueries practices, NoteQueries notes, IMailSender mail, TimeProvider time)
{
    private static readonly TimeSpan VisitTakes = TimeSpan.FromHours(1);

    /// <returns>Null where nothing is booked any more.</returns>
    public async Task<LetterDraft?> Add(LetterDraft draft, LetterSubject about, bool cancelled, CancellationToken ct)
    {
        var (reminder, horse, language) = (about.Reminder, about.Horse, about.Language);
        if (reminder.BookingId is null || reminder.BookedFor is null && !cancelled)
            return null;
        var at = cancelled ? reminder.BookedBefore ?? reminder.BookedFor : reminder.BookedFor;
        // Moved: its reader has another day in mind, and perhaps in a calendar of their own.
        var moved = reminder is { BookingSequence: > 0, BookedBefore: { } before } && before != reminder.BookedFor;
        draft = draft.WithSentence(
            at is not { } on ? language["horse-letters.the-visit-to-will", horse.Profile.Name]
            : cancelled ? language["horse-letters.visit-cancelled", horse.Profile.Name, Day(on, about), Hour(on, about)]
            : moved ? language["horse-letters.visit-moved", horse.Profile.Name, Day(on, about), Hour(on, about)]
            : language["horse-letters.we-come-to-on", horse.Profile.Name, Day(on, about), Hour(on, about)]
        );
        if (!cancelled && await Goes(about, ct) is { } who)
            draft = draft.WithSentence(language["shared-page.who-comes", who]);
        if ((await practices.Contact(about.Practice, ct))?.Phone is { Length: > 0 } phone)
            draft = draft.WithSentence(language["horse-letters.telephone", phone.Trim()]);
        return draft with { Calendar = await Entry(about, at ?? time.GetUtcNow(), cancelled, ct) };
    }

    /// <summary>To the practice: a reader moved the visit.</summary>
    public async Task<LetterDraft?> AddMoved(LetterDraft draft, LetterSubject about, CancellationToken ct)
    {
        var (language, horse) = (about.Language, about.Horse.Profile.Name);
        if (about.Reminder.BookedFor is not { } to)
            return null;
        var owner = await Owner(about, ct);
        draft = draft.WithSentence(
            about.Reminder.BookedBefore is { } from
                ? language["horse-letters.owner-moved", owner, horse, Day(from, about), Hour(from, about), Day(to, about), Hour(to, about)]
                : language["horse-letters.owner-moved-to", owner, horse, Day(to, about), Hour(to, about)]
        );
        return await Goes(about, ct) is { } who ? draft.WithSentence(language["horse-letters.goes", who]) : draft;
    }

    /// <summary>To the practice: a reader cancelled the visit.</summary>
    public async Task<LetterDraft> AddCancelled(LetterDraft draft, LetterSubject about, CancellationToken ct)
    {
        var (language, horse) = (about.Language, about.Horse.Profile.Name);
        var owner = await Owner(about, ct);
        draft = draft.WithSentence(
            (about.Reminder.BookedBefore ?? about.Reminder.BookedFor) is { } at
                ? language["horse-letters.owner-cancelled", owner, horse, Day(at, about), Hour(at, about)]
                : language["horse-letters.owner-cancelled-it", owner, horse]
        );
        if (await Goes(about, ct) is { } who)
            draft = draft.WithSentence(language["horse-letters.would-have-gone", who]);
        if (
            about.Reminder is { Answer: Answer.Cancelled, AnswerNote: { } note }
            && await notes.Load(about.Practice, [note], ct) is [{ Words: { Length: > 0 } words }]
        )
            draft = draft.WithSentence(language["digest-letters.in-their-words", words]);
        return draft.WithSentence(language["horse-letters.open-again"]);
    }

    private async Task<LetterCalendar> Entry(LetterSubject about, DateTimeOffset start, bool cancelled, CancellationToken ct)
    {
        var (reminder, horse, reader) = (about.Reminder, about.Horse, about.Reader);
        var yard = horse.Profile.YardId is { } id ? (await practices.Yards(about.Practice, ct)).FirstOrDefault(y => y.Id == id) : null;
        var appointment = new Appointment
        {
            Id = reminder.BookingId!.Value,
            Version = reminder.BookingSequence,
            Start = start,
            End = start + VisitTakes,
            ChangedAt = time.GetUtcNow(),
            Summary = about.Language["horse-letters.saddle-fitter", horse.Profile.Name],
            Place =
                yard is null ? ""
                : yard.Town is null ? yard.Name
                : $"{yard.Name}, {yard.Town}",
            Cancelled = cancelled,
        };
        var text = PracticeCalendar.Booking(
            appointment,
            new CalendarPerson(horse.Practice.Name, mail.From),
            new CalendarPerson(reader.Name, reader.Email!)
        );
        return new LetterCalendar(cancelled ? "CANCEL" : "REQUEST", text);
    }

    private async Task<string?> Goes(LetterSubject about, CancellationToken ct) =>
        about.Reminder.Fitter is { } fitter ? (await practices.Person(about.Practice, fitter, ct))?.Name : null;

    private async Task<string> Owner(LetterSubject about, CancellationToken ct) =>
        about.Horse.Profile.OwnerId is { } id && await practices.Person(about.Practice, id, ct) is { } owner
            ? owner.Name
            : about.Language["horse-letters.the-owner"];

    private static string Day(DateTimeOffset at, LetterSubject about) =>
        about.Language.DateWithWeekday(ZoneClock.Day(at, PracticeClock.Zone(about.Horse.Practice)));

    private static string Hour(DateTimeOffset at, LetterSubject about) =>
        ZoneClock.At(at, PracticeClock.Zone(about.Horse.Practice)).ToString("HH:mm", CultureInfo.InvariantCulture);
}
