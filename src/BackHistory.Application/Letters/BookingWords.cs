using System.Globalization;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Reports.Calendars;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Letters;

/// <summary>A booked visit as a letter says it: in a sentence, and for the reader's calendar.</summary>
internal sealed class BookingWords(PracticeQueries practices, IMailSender mail, TimeProvider time)
{
    private static readonly TimeSpan VisitTakes = TimeSpan.FromHours(1);

    /// <returns>Null where nothing is booked any more.</returns>
    public async Task<LetterDraft?> Add(LetterDraft draft, LetterSubject about, bool cancelled, CancellationToken ct)
    {
        var (reminder, horse, reader, language) = (about.Reminder, about.Horse, about.Reader, about.Language);
        if (reminder.BookingId is not { } booking || reminder.BookedFor is null && !cancelled)
            return null;
        var start = reminder.BookedFor ?? time.GetUtcNow();
        var yard = horse.Profile.YardId is { } id ? (await practices.Yards(about.Practice, ct)).FirstOrDefault(y => y.Id == id) : null;
        var appointment = new Appointment
        {
            Id = booking,
            Version = reminder.BookingSequence,
            Start = start,
            End = start + VisitTakes,
            ChangedAt = time.GetUtcNow(),
            Summary = language["horse-letters.saddle-fitter", horse.Profile.Name],
            Place =
                yard is null ? ""
                : yard.Town is null ? yard.Name
                : $"{yard.Name}, {yard.Town}",
            Cancelled = cancelled,
        };
        var when = ZoneClock.At(start, about.Zone);
        var sentence = cancelled
            ? language["horse-letters.the-visit-to-will", horse.Profile.Name]
            : language[
                "horse-letters.we-come-to-on",
                horse.Profile.Name,
                language.Date(DateOnly.FromDateTime(when.DateTime)),
                when.ToString("HH:mm", CultureInfo.InvariantCulture)
            ];
        var text = PracticeCalendar.Booking(
            appointment,
            new CalendarPerson(horse.Practice.Name, mail.From),
            new CalendarPerson(reader.Name, reader.Email!)
        );
        draft = draft.WithSentence(sentence);
        if (!cancelled && reminder.Fitter is { } fitter && await practices.Person(about.Practice, fitter, ct) is { } who)
            draft = draft.WithSentence(language["shared-page.who-comes", who.Name]);
        return draft with { Calendar = new LetterCalendar(cancelled ? "CANCEL" : "REQUEST", text) };
    }
}
