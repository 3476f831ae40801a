using BackHistory.Application.Letters;
using BackHistory.Application.Trends;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Reports.Calendars;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Letters.Content;
using BackHistory.Service.Configuration;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using System.Globalization;

namespace BackHistory.Service.Reminders;

/// <summary>What letters about one horse say: the finding in a plain sentence, what to do, and apart from it how it is known.</summary>
public sealed class HorseLetters(
    HorseData data,
    HorseQueries horses,
    PracticeQueries practices,
    AnswerLinks links,
    Settings settings,
    TimeProvider time
)
{
    private static readonly TimeSpan VisitTakes = TimeSpan.FromHours(1);

    /// <returns>Null when the horse is gone.</returns>
    public async Task<LetterDraft?> Draft(string practice, LetterKind kind, Reminder reminder, Person reader, CancellationToken ct)
    {
        if (await data.Load(practice, reminder.HorseId, ct) is not { } horse)
            return null;
        var language = LetterDrafts.LanguageOf(reader);
        var zone = TimeZoneInfo.TryFindSystemTimeZoneById(reader.TimeZone ?? horse.Practice.TimeZone, out var found)
            ? found
            : TimeZoneInfo.Utc;
        var plain = ReminderSentences.SentenceOf(reminder.Rule, reminder.Evidence, horse.Profile.Name, ReportLanguage.Of(reader.Language));
        var basis = new LetterModel
        {
            Language = language,
            PracticeName = horse.Practice.Name,
            RecipientName = reader.Name,
            HorseName = horse.Profile.Name,
            Sentences = [plain],
            UnsubscribeUrl = "",
        };
        return kind switch
        {
            LetterKind.BookingMade or LetterKind.BookingCancelled => await Booking(
                practice,
                kind,
                reminder,
                reader,
                horse,
                basis,
                zone,
                ct
            ),
            LetterKind.NoAnswer => new LetterDraft(
                basis with
                {
                    Sentences = [await Silence(practice, reminder, horse, language, ct), plain],
                    Link = new LetterLink(language["horse-letters.open-the-reminders"], $"{settings.Root}/reminders"),
                }
            ),
            LetterKind.VetNote => new LetterDraft(
                Evidence(basis, horse, reminder) with
                {
                    Link = new LetterLink(language["horse-letters.open-the-horse-s"], $"{settings.Root}/horses/{horse.Profile.Id}"),
                }
            ),
            LetterKind.GroundWithdrawn => new LetterDraft(basis),
            _ => new LetterDraft(
                Evidence(basis, horse, reminder) with
                {
                    Back = await Back(practice, horse, reminder, language, ct),
                    Answers = new LetterAnswers(
                        links.Answer(practice, reminder.Id, Answers.Offered(reminder.Rule)[0], reader.Language),
                        links.Answer(practice, reminder.Id, Answer.Later, reader.Language),
                        links.Answer(practice, reminder.Id, Answer.NotNeeded, reader.Language)
                    ),
                }
            ),
        };
    }

    private static LetterModel Evidence(LetterModel basis, HorseRecord horse, Reminder reminder) =>
        basis with
        {
            Details = EvidenceWords.Details(reminder.Evidence, basis.Language),
            Numbers = EvidenceWords.Numbers(reminder.Evidence, horse.Format(basis.Language)),
            Chart = Chart(horse, reminder, basis.Language),
        };

    private static LetterImage? Chart(HorseRecord horse, Reminder reminder, ReportLanguage language)
    {
        if (reminder.Evidence.Measure is not { } measure)
            return null;
        var saddle = horse.Assessment?.Saddles.FirstOrDefault(s => s.SaddleId == reminder.SaddleId) ?? horse.Assessment?.Worst;
        var input = HorseCharts.Trend(horse, saddle, measure, reminder.Evidence.Station, language);
        return input is null ? null : LetterImage.Of("trend", TrendChart.Draw(input, ChartTheme.Light, ChartSize.Letter));
    }

    private async Task<LetterImage?> Back(
        string practice,
        HorseRecord horse,
        Reminder reminder,
        ReportLanguage language,
        CancellationToken ct
    )
    {
        var station = reminder.Evidence.Station ?? "behind-shoulder";
        var curves = await SectionCurves.Of(horses, practice, horse, station, ct, language);
        if (curves.Count < 2)
            return null;
        var now = curves[^1] with { Label = language["horse-letters.as-last-traced", curves[^1].Label] };
        var then = curves[0] with { Label = language["horse-letters.when-the-saddle-was", curves[0].Label] };
        return LetterImage.Of(
            "back",
            BackPicture.Draw(new BackPictureInput(now, then) { Language = language }, ChartTheme.Light, BackPicture.Size)
        );
    }

    private async Task<LetterDraft?> Booking(
        string practice,
        LetterKind kind,
        Reminder reminder,
        Person reader,
        HorseRecord horse,
        LetterModel basis,
        TimeZoneInfo zone,
        CancellationToken ct
    )
    {
        var cancelled = kind == LetterKind.BookingCancelled;
        if (reminder.BookingId is not { } booking || reminder.BookedFor is null && !cancelled)
            return null;
        var language = basis.Language;
        var start = reminder.BookedFor ?? time.GetUtcNow();
        var yard = horse.Profile.YardId is { } id ? (await practices.Yards(practice, ct)).FirstOrDefault(y => y.Id == id) : null;
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
        var when = PracticeClock.At(start, zone);
        var sentence = cancelled
            ? language["horse-letters.the-visit-to-will", horse.Profile.Name]
            : language[
                "horse-letters.we-come-to-on",
                horse.Profile.Name,
                language.Date(DateOnly.FromDateTime(when.DateTime)),
                (when).ToString("HH:mm", CultureInfo.InvariantCulture)
            ];
        var text = PracticeCalendar.Booking(
            appointment,
            new CalendarPerson(horse.Practice.Name, settings.Mail.From),
            new CalendarPerson(reader.Name, reader.Email!)
        );
        return new LetterDraft(basis with { Sentences = [sentence] }, new LetterCalendar(cancelled ? "CANCEL" : "REQUEST", text));
    }

    private async Task<string> Silence(string practice, Reminder reminder, HorseRecord horse, ReportLanguage language, CancellationToken ct)
    {
        var last = reminder.Post.LastOrDefault(l => LetterDefinition.Of(l.Kind).AsksAnswer);
        var name =
            last is not null && await practices.Person(practice, last.To, ct) is { } owner
                ? owner.Name
                : language["horse-letters.the-owner"];
        if (last?.SentAt is { } at && !last.Failed)
        {
            var day = language.Date(DateOnly.FromDateTime(at.UtcDateTime));
            return language["horse-letters.was-written-to-about", name, horse.Profile.Name, day];
        }

        return language["horse-letters.our-letter-about-did", horse.Profile.Name, name];
    }
}
