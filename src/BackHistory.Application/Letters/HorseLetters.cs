using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Letters.Content;
using BackHistory.Store.Horses;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Letters;

/// <summary>What letters about one horse say, part by part: the finding in a plain sentence, what to do, and apart from it how it is
/// known.</summary>
public sealed class HorseLetters(
    HorseData data,
    HorseQueries horses,
    PracticeQueries practices,
    NoteQueries notes,
    ILetterLinks links,
    IMailSender mail,
    TimeProvider time
)
{
    private readonly BookingWords _booking = new(practices, notes, mail, time);

    /// <returns>Null when what it is about is gone.</returns>
    public async Task<LetterDraft?> Draft(string practice, LetterKind kind, Reminder reminder, Person reader, CancellationToken ct)
    {
        if (await data.Load(practice, reminder.HorseId, ct) is not { } horse)
            return null;
        var about = new LetterSubject(practice, reminder, horse, reader);
        LetterDraft? draft = new(
            new LetterModel
            {
                Language = about.Language,
                PracticeName = horse.Practice.Name,
                RecipientName = reader.Name,
                HorseName = horse.Profile.Name,
                UnsubscribeUrl = "",
            }
        );
        foreach (var part in LetterKinds.DefinitionOf(kind).Says)
            draft = draft is null ? null : await With(draft, part, about, ct);
        return draft;
    }

    private async Task<LetterDraft?> With(LetterDraft draft, LetterPart part, LetterSubject about, CancellationToken ct) =>
        part switch
        {
            LetterPart.Finding => draft.WithSentence(Finding(about)),
            LetterPart.Silence => draft.WithSentence(await Silence(about, ct)),
            LetterPart.Booking => await _booking.Add(draft, about, cancelled: false, ct),
            LetterPart.BookingEnd => await _booking.Add(draft, about, cancelled: true, ct),
            LetterPart.VisitMoved => await _booking.AddMoved(draft, about, ct),
            LetterPart.VisitCancelled => await _booking.AddCancelled(draft, about, ct),
            LetterPart.Evidence => draft with { Model = Evidence(draft.Model, about) },
            LetterPart.Back => draft with { Model = draft.Model with { Back = await Back(about, ct) } },
            LetterPart.Answers => draft with { Model = draft.Model with { Answers = ToAnswer(about) } },
            LetterPart.HorseLink => Leading(await Agreed(draft, about, ct), about.Language["horse-letters.open-the-horse-s"], Sight(about)),
            LetterPart.MoveLink => Leading(
                draft,
                about.Language["horse-letters.another-day"],
                links.Move(about.Practice, about.Reminder.Id, about.Reader.Id, about.Reader.Language)
            ),
            LetterPart.RemindersLink => Leading(draft, about.Language["horse-letters.open-the-reminders"], links.Reminders),
            _ => throw new ArgumentOutOfRangeException(nameof(part), part, "no letter about one horse says this"),
        };

    private static LetterDraft Leading(LetterDraft draft, string text, string url) =>
        draft with
        {
            Model = draft.Model with { Link = new LetterLink(text, url) },
        };

    /// <summary>Where it shows the horse: whoever was asked for their view has a link of their own, under the letter's id.</summary>
    private string Sight(LetterSubject about) =>
        about.Reminder.Post.LastOrDefault(l => LetterKinds.DefinitionOf(l.Kind).SeesByLink && l.To == about.Reader.Id) is { } letter
            ? links.Look(about.Practice, about.Reminder.HorseId, letter.LetterId)
            : links.Horse(about.Horse.Profile.Id);

    /// <summary>That the owner agreed to it, where they were asked and did.</summary>
    private async Task<LetterDraft> Agreed(LetterDraft draft, LetterSubject about, CancellationToken ct) =>
        about.Reader.Role == PersonRole.Veterinarian
        && about.Horse.Profile.OwnerId is { } id
        && await practices.Person(about.Practice, id, ct) is { } owner
        && owner.Last(ConsentKind.Sharing) is { Given: true } yes
            ? draft.WithSentence(about.Language["horse-letters.owner-agreed", about.Language.Date(yes.On)])
            : draft;

    private static string Finding(LetterSubject about) =>
        ReminderSentences.SentenceOf(about.Reminder.Rule, about.Reminder.Evidence, about.Horse.Profile.Name, about.Language);

    private static LetterModel Evidence(LetterModel model, LetterSubject about) =>
        model with
        {
            Details = EvidenceWords.Details(about.Reminder.Evidence, about.Language),
            Numbers = EvidenceWords.Numbers(about.Reminder.Evidence, about.Horse.Format(about.Language)),
            Chart = Chart(about),
        };

    private static LetterImage? Chart(LetterSubject about)
    {
        var (horse, evidence) = (about.Horse, about.Reminder.Evidence);
        if (evidence.Measure is not { } measure)
            return null;
        var saddle = horse.Assessment?.Saddles.FirstOrDefault(s => s.SaddleId == about.Reminder.SaddleId) ?? horse.Assessment?.Worst;
        // Set again since: the picture would count from another day than the sentence above it.
        if (evidence.Baseline is { } told && saddle?.Decision.BaselineOn != told)
            saddle = null;
        var input = HorseCharts.Trend(horse, saddle, measure, evidence.Station, about.Language);
        return input is null ? null : LetterImage.From("trend", TrendChart.Draw(input, ChartTheme.Light, ChartSize.Letter));
    }

    private async Task<LetterImage?> Back(LetterSubject about, CancellationToken ct)
    {
        var language = about.Language;
        var station = about.Reminder.Evidence.Station ?? Protocols.UsualOf(about.Horse.Practice.Stations);
        var fitted = about.Reminder.Evidence.Baseline;
        var sections = await SectionCurves.Load(horses, about.Practice, about.Horse, station, ct, language, fittedOn: fitted);
        if (sections is not [var first, .., var last])
            return null;
        var earlier = first.AtFit ? "horse-letters.when-the-saddle-was" : "horse-letters.as-traced";
        var now = last.Curve with { Label = language["horse-letters.as-last-traced", last.Curve.Label] };
        var then = first.Curve with { Label = language[earlier, first.Curve.Label] };
        return LetterImage.From(
            "back",
            BackPicture.Draw(new BackPictureInput(now, then) { Language = language }, ChartTheme.Light, BackPicture.Size)
        );
    }

    private LetterAnswers ToAnswer(LetterSubject about)
    {
        string To(Answer answer) => links.Answer(about.Practice, about.Reminder.Id, answer, about.Reader.Id, about.Reader.Language);
        return new LetterAnswers(To(Answers.Offered(about.Reminder.Rule)[0]), To(Answer.Later), To(Answer.NotNeeded));
    }

    private async Task<string> Silence(LetterSubject about, CancellationToken ct)
    {
        var (horse, language) = (about.Horse.Profile.Name, about.Language);
        var last = about.Reminder.Post.LastOrDefault(l => LetterKinds.DefinitionOf(l.Kind).AsksAnswer);
        var name =
            last is not null && await practices.Person(about.Practice, last.To, ct) is { } owner
                ? owner.Name
                : language["horse-letters.the-owner"];
        if (last?.SentAt is { } at && !last.Failed)
        {
            var day = language.Date(ZoneClock.Day(at, about.Zone));
            return language["horse-letters.was-written-to-about", name, horse, day];
        }

        return language["horse-letters.our-letter-about-did", horse, name];
    }
}
