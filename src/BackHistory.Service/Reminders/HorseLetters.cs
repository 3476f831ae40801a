using BackHistory.Application.Letters;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports;
using BackHistory.Reports.Calendars;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Letters;
using BackHistory.Service.Trends;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

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
        var plain = PlainWords.Of(reminder.Rule, reminder.Evidence, horse.Profile.Name, reader.Language);
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
                    Link = new LetterLink(language.Pick("Open the reminders", "Erinnerungen öffnen"), $"{settings.Root}/reminders"),
                }
            ),
            LetterKind.VetNote => new LetterDraft(
                Evidence(basis, horse, reminder) with
                {
                    Link = new LetterLink(
                        language.Pick("Open the horse's history", "Verlauf des Pferdes öffnen"),
                        $"{settings.Root}/horses/{horse.Profile.Id}"
                    ),
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
            Numbers = EvidenceWords.Numbers(reminder.Evidence, horse.Say(basis.Language)),
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
        var now = curves[^1] with
        {
            Label = language.Pick($"as last traced, {curves[^1].Label}", $"wie zuletzt gezeichnet, {curves[^1].Label}"),
        };
        var then = curves[0] with
        {
            Label = language.Pick($"when the saddle was set, {curves[0].Label}", $"als der Sattel eingestellt wurde, {curves[0].Label}"),
        };
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
            Summary = language.Pick($"Saddle fitter: {horse.Profile.Name}", $"Sattelanpassung: {horse.Profile.Name}"),
            Place =
                yard is null ? ""
                : yard.Town is null ? yard.Name
                : $"{yard.Name}, {yard.Town}",
            Cancelled = cancelled,
        };
        var when = LocalClock.At(start, zone);
        var sentence = cancelled
            ? language.Pick(
                $"The visit to {horse.Profile.Name} will not take place as agreed.",
                $"Der vereinbarte Besuch bei {horse.Profile.Name} findet nicht statt."
            )
            : language.Pick(
                FormattableString.Invariant(
                    $"We come to {horse.Profile.Name} on {language.Date(DateOnly.FromDateTime(when.DateTime))} at {when:HH:mm}."
                ),
                FormattableString.Invariant(
                    $"Wir kommen am {language.Date(DateOnly.FromDateTime(when.DateTime))} um {when:HH:mm} Uhr zu {horse.Profile.Name}."
                )
            );
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
                : language.Pick("the owner", "die Besitzerin oder der Besitzer");
        if (last?.SentAt is { } at && !last.Failed)
        {
            var day = language.Date(DateOnly.FromDateTime(at.UtcDateTime));
            return language.Pick(
                $"{name} was written to about {horse.Profile.Name} on {day} and has not answered.",
                $"An {name} ging am {day} ein Brief über {horse.Profile.Name}; eine Antwort kam nicht."
            );
        }

        return language.Pick(
            $"Our letter about {horse.Profile.Name} did not reach {name}.",
            $"Unser Brief über {horse.Profile.Name} hat {name} nicht erreicht."
        );
    }
}
