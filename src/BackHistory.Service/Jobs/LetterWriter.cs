using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Letters;
using BackHistory.Service.Reminders;
using BackHistory.Service.Trends;
using BackHistory.Service.Web;

namespace BackHistory.Service.Jobs;

/// <summary>Composes a letter from the reminder's evidence and the horse's record: the finding, the numbers, the pictures, the three answers.</summary>
public sealed class LetterWriter(
    HorseData data, HorseQueries horses, ReminderQueries reminders, PracticeQueries practices, AnswerLinks links, TimeProvider time)
{
    /// <returns>The letter, or why it cannot be written.</returns>
    public async Task<(History.Reminders.LetterContent? Content, string? Why)> Compose(string practice, History.Reminders.Letter letter, CancellationToken ct)
    {
        var person = await practices.Person(practice, letter.To, ct);
        if (person is null) return (null, "The person is no longer known here.");
        if (string.IsNullOrWhiteSpace(person.Email)) return (null, "The person has no e-mail address.");
        if (person.Stopped.Contains(letter.Kind)) return (null, "The person asked for no more letters of this kind.");
        var reminder = await reminders.Load(practice, letter.ReminderId, ct);
        var horse = await data.Load(practice, letter.HorseId, ct);
        if (reminder is null || horse is null) return (null, "What the letter was about is gone.");

        var content = new Reports.Letters.LetterContent
        {
            Language = LanguageOf(person),
            PracticeName = horse.Practice.Name,
            RecipientName = person.Name,
            HorseName = horse.Profile.Name,
            Sentences = [reminder.Evidence.Sentence],
            Numbers = NumbersOf(reminder.Evidence, LanguageOf(person)),
            Chart = ChartOf(horse, reminder),
            Back = await BackOf(practice, horse, reminder, ct),
            Answers = new LetterAnswers(
                links.Answer(practice, reminder.Id, Answer.Book), links.Answer(practice, reminder.Id, Answer.Later), links.Answer(practice, reminder.Id, Answer.NotNeeded)),
            UnsubscribeUrl = links.Stop(practice, person.Id, letter.Kind),
        };
        var written = LetterBook.Write(KindOf(letter.Kind), content);
        return (new History.Reminders.LetterContent(
            letter.Id, person.Name, person.Email, written.Subject, written.Html, written.Text,
            [.. written.Images.Select(i => new LetterPicture(i.ContentId, i.AltText, i.Png))], content.UnsubscribeUrl, time.GetUtcNow()), null);
    }

    private static ReportLanguage LanguageOf(Person person) => person.Language == "de" ? ReportLanguage.German : ReportLanguage.English;

    private static Reports.Letters.LetterKind KindOf(History.Reminders.LetterKind kind) => kind switch
    {
        History.Reminders.LetterKind.OwnerRefit => Reports.Letters.LetterKind.OwnerRefit,
        History.Reminders.LetterKind.OwnerCheck => Reports.Letters.LetterKind.OwnerCalendar,
        History.Reminders.LetterKind.VetCaution => Reports.Letters.LetterKind.OwnerVetFirst,
        History.Reminders.LetterKind.GroundWithdrawn => Reports.Letters.LetterKind.OwnerGroundWithdrawn,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "no such letter"),
    };

    private static List<LetterNumber> NumbersOf(Evidence e, ReportLanguage language)
    {
        if (e is not { Measure: { } measure, Unit: { } unit, Change: { } change, Sd: { } sd, Threshold: { } threshold }) return [];
        var label = MeasureWords.Subject(measure, e.Station);
        return [new LetterNumber(label, Say.Change(change, sd, unit), language == ReportLanguage.German ? $"Schwelle {Say.Number(threshold, unit)}" : $"threshold {Say.Number(threshold, unit)}")];
    }

    private static LetterImage? ChartOf(HorseRecord horse, Reminder reminder)
    {
        var saddle = horse.Assessment?.Saddles.FirstOrDefault(s => s.SaddleId == reminder.SaddleId) ?? horse.Assessment?.Worst;
        var (measure, station) = reminder.Evidence.Measure is { } m ? (m, reminder.Evidence.Station) : ("slope-left", "behind-shoulder");
        var input = HorseCharts.Trend(horse.Profile, horse.Visits, horse.Practice.WatchBy(), saddle, measure, station, horse.Today);
        return input is null ? null : LetterImage.Of("trend", TrendChart.Draw(input, ChartTheme.Light, ChartSize.Letter));
    }

    private async Task<LetterImage?> BackOf(string practice, HorseRecord horse, Reminder reminder, CancellationToken ct)
    {
        var station = reminder.Evidence.Station ?? "behind-shoulder";
        var curves = await SectionCurves.Of(horses, practice, horse, station, ct);
        return curves.Count < 2 ? null : LetterImage.Of("back", BackPicture.Draw(new BackPictureInput(curves[^1], curves[0]), ChartTheme.Light, BackPicture.Size));
    }
}
