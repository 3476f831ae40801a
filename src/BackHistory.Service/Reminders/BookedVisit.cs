using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>A visit as its reader sees it behind the link of a letter: of which horse, when, who comes, and where the practice is
/// reached.</summary>
/// <param name="Stands">For when it is booked; null where it is not, or is not theirs.</param>
public sealed record BookedVisit(
    Reminder Reminder,
    string Horse,
    string Practice,
    string? Phone,
    string? Goes,
    DateTimeOffset? Stands,
    TimeZoneInfo Zone,
    ReportLanguage Language
)
{
    /// <returns>Null where there is nothing of it any more.</returns>
    public static async Task<BookedVisit?> Load(
        AnswerLink link,
        PracticeQueries practices,
        ReminderQueries reminders,
        HorseQueries horses,
        ReportLanguage language,
        CancellationToken ct
    )
    {
        if (
            await practices.Load(link.Practice, ct) is not { } known
            || link.ReminderId is not { } id
            || await reminders.Load(link.Practice, id, ct) is not { } reminder
        )
            return null;
        var horse = await horses.Profile(link.Practice, reminder.HorseId, ct);
        // Of a horse that was sold its visits are its new owner's.
        var first =
            horse?.OwnerId ?? (await practices.InRole(link.Practice, PersonRole.Manager, ct)).OrderBy(p => p.Id).FirstOrDefault()?.Id;
        return new BookedVisit(
            reminder,
            horse?.Name ?? language["digest-letters.a-horse"],
            known.Name,
            (await practices.Contact(link.Practice, ct))?.Phone,
            reminder.Fitter is { } fitter ? (await practices.Person(link.Practice, fitter, ct))?.Name : null,
            reminder.State == ReminderState.Booked && first == link.PersonId ? reminder.BookedFor : null,
            PracticeClock.Zone(known),
            language
        );
    }

    public string Day(DateTimeOffset at) => Language.DateWithWeekday(ZoneClock.Day(at, Zone));

    public string Hour(DateTimeOffset at) => ZoneClock.At(at, Zone).ToString("HH:mm", CultureInfo.InvariantCulture);
}
