using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Reports.Letters.Content;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>What letters about many horses say, part by part: the reminders of a week, the stops of a day.</summary>
public sealed class DigestLetters(ReminderQueries reminders, PracticeQueries practices, NoteQueries notes, ILetterLinks links)
{
    /// <summary>Horses of one group that a letter names; the rest is counted.</summary>
    private const int Most = 40;

    private const int MostReminders = 2000;

    public async Task<LetterDraft?> Draft(string practice, LetterKind kind, DateOnly on, Person reader, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } known)
            return null;
        var zone = TimeZoneInfo.FindSystemTimeZoneById(known.TimeZone);
        var model = new LetterModel
        {
            Language = ReportLanguage.For(reader.Language),
            PracticeName = known.Name,
            RecipientName = reader.Name,
            Date = on,
            UnsubscribeUrl = "",
        };
        foreach (var part in LetterKinds.DefinitionOf(kind).Says)
            model = part switch
            {
                LetterPart.Week => await Week(practice, on, zone, model, ct),
                LetterPart.Day => await Day(practice, on, reader, zone, model, ct),
                LetterPart.RemindersLink => model with
                {
                    Link = new LetterLink(model.Language["horse-letters.open-the-reminders"], links.Reminders),
                },
                _ => throw new ArgumentOutOfRangeException(nameof(kind), part, "no letter about many horses says this"),
            };
        return new LetterDraft(model);
    }

    private async Task<LetterModel> Week(string practice, DateOnly on, TimeZoneInfo zone, LetterModel model, CancellationToken ct)
    {
        var language = model.Language;
        var active = await reminders.Active(practice, MostReminders, ct);
        var horses = await reminders.Horses(practice, active.Select(r => r.HorseId), ct);
        var from = ZoneClock.At(on, TimeOnly.MinValue, zone);
        var booked = active.Where(r => r.State == ReminderState.Booked).OrderBy(r => r.BookedFor).ToList();
        // Whoever answered waits for somebody to act: they stand before those who are only owed a visit.
        var open = active.Where(r => r.State == ReminderState.Open).OrderBy(r => r.Answer is null).ToList();
        var later = active.Where(r => r.State == ReminderState.PutOff && r.AnsweredAt >= from.AddDays(-7)).ToList();
        var heard = await Heard(practice, active, ct);
        bool Silent(Reminder r) => r.Answer is null && r.Post.Any(l => LetterKinds.DefinitionOf(l.Kind).SaysSilence || l.Failed);
        LetterItem Item(Reminder r) => ItemFor(r, horses, heard, zone, language);
        LetterGroup Group(string title, IEnumerable<Reminder> rows) => Capped(title, [.. rows.Select(Item)], language);
        var answered = active.Count(r => r.AnsweredAt >= from.AddDays(-7));
        return model with
        {
            Sentences =
                answered == 0 ? [] : [answered == 1 ? language["digest-letters.one-answer"] : language["digest-letters.answers", answered]],
            Groups =
            [
                .. new[]
                {
                    Group(language["digest-letters.to-the-vet-first"], open.Where(r => Families.FamilyOf(r.Rule) == ReminderFamily.Vet)),
                    Group(
                        language["digest-letters.saddle-set-to-another"],
                        open.Where(r => Families.FamilyOf(r.Rule) == ReminderFamily.Shape)
                    ),
                    Group(
                        language["digest-letters.measure-or-look-again"],
                        open.Where(r => Families.FamilyOf(r.Rule) is ReminderFamily.Again or ReminderFamily.Recheck)
                    ),
                    Group(language["digest-letters.check-due"], open.Where(r => Families.FamilyOf(r.Rule) == ReminderFamily.Calendar)),
                    Group(language["digest-letters.no-answer-or-not"], open.Where(Silent)),
                    Group(language["digest-letters.answered-put-off"], later),
                    Group(language["digest-letters.booked"], booked),
                }.Where(g => g.Items.Count > 0),
            ],
        };
    }

    private async Task<LetterModel> Day(
        string practice,
        DateOnly on,
        Person reader,
        TimeZoneInfo zone,
        LetterModel model,
        CancellationToken ct
    )
    {
        var language = model.Language;
        var (from, to) = (ZoneClock.At(on, TimeOnly.MinValue, zone), ZoneClock.At(on.AddDays(1), TimeOnly.MinValue, zone));
        var booked = (await reminders.Booked(practice, from, to, ct))
            .Where(r => r.Fitter is null || r.Fitter == reader.Id)
            .DistinctBy(r => r.BookingId)
            .ToList();
        var horses = await reminders.Horses(practice, booked.Select(r => r.HorseId), ct);
        var heard = await Heard(practice, booked, ct);
        var yards = (await practices.Yards(practice, ct)).ToDictionary(y => y.Id);
        Yard? YardOf(Reminder r) => horses.GetValueOrDefault(r.HorseId)?.YardId is { } id ? yards.GetValueOrDefault(id) : null;
        var stops = booked.GroupBy(r => YardOf(r)?.Id).OrderBy(g => g.Min(r => r.BookedFor));
        return model with
        {
            Groups =
            [
                .. stops.Select(stop =>
                {
                    var yard = YardOf(stop.First());
                    var name = yard?.Name ?? language["digest-letters.yard-not-noted"];
                    var title = FormattableString.Invariant($"{ZoneClock.At(stop.Min(r => r.BookedFor)!.Value, zone):HH:mm} {name}");
                    return new LetterGroup(
                        title,
                        [.. stop.OrderBy(r => r.BookedFor).Select(r => ItemFor(r, horses, heard, zone, language))]
                    )
                    {
                        Note = yard?.Town ?? "",
                    };
                }),
            ],
        };
    }

    /// <summary>What readers said in their own words, and who of them wants no more letters.</summary>
    private sealed record WhatWasHeard(IReadOnlyDictionary<Guid, string> Words, IReadOnlyList<Person> Stopped);

    private async Task<WhatWasHeard> Heard(string practice, IReadOnlyList<Reminder> about, CancellationToken ct)
    {
        var words = await notes.Load(practice, about.Select(r => r.AnswerNote).OfType<Guid>(), ct);
        var readers = await practices.People(practice, about.SelectMany(r => r.Post).Select(l => l.To).Distinct(), ct);
        return new WhatWasHeard(words.ToDictionary(n => n.Id, n => n.Words), [.. readers.Where(p => p.Stopped.Count > 0)]);
    }

    private LetterItem ItemFor(
        Reminder r,
        IReadOnlyDictionary<Guid, HorseProfile> horses,
        WhatWasHeard heard,
        TimeZoneInfo zone,
        ReportLanguage language
    )
    {
        var horse = horses.GetValueOrDefault(r.HorseId);
        var name = horse?.Name ?? language["digest-letters.a-horse"];
        var when =
            r.BookedFor is { } at && r.State == ReminderState.Booked
                ? FormattableString.Invariant($"{language.Date(ZoneClock.Day(at, zone))} {ZoneClock.At(at, zone):HH:mm}")
                : language["digest-letters.since", language.Date(ZoneClock.Day(r.RaisedAt, zone))];
        return new LetterItem(name, ReminderSentences.SentenceOf(r.Rule, r.Evidence, name, language), when, Trail(r, heard, zone, language))
        {
            Url = links.Horse(r.HorseId),
        };
    }

    private static string Trail(Reminder r, WhatWasHeard heard, TimeZoneInfo zone, ReportLanguage language)
    {
        var told = Answered(r, zone, language);
        if (r.AnswerNote is { } note && heard.Words.GetValueOrDefault(note) is { Length: > 0 } words)
            told += " " + language["digest-letters.in-their-words", words];
        var kind = LettersOf.KindOf(r.Rule);
        foreach (var reader in heard.Stopped.Where(p => p.Stopped.Contains(kind) && r.Post.Any(l => l.To == p.Id)))
            told += " " + language["digest-letters.stopped", reader.Name];
        return told;
    }

    private static string Answered(Reminder r, TimeZoneInfo zone, ReportLanguage language)
    {
        string Day(DateTimeOffset at) => language.Date(ZoneClock.Day(at, zone));
        if (r.Answer is { } answer && r.AnsweredAt is { } on)
        {
            var said = answer switch
            {
                Answer.Book => language["digest-letters.wants-a-visit"],
                Answer.Later => language["digest-letters.later"],
                Answer.VetHasSeen => language["digest-letters.the-vet-has-seen"],
                Answer.NotNeeded => language["digest-letters.not-needed"],
                Answer.Cancelled => language["digest-letters.cancelled"],
                _ => throw new ArgumentOutOfRangeException(nameof(r), answer, "an answer without words"),
            };
            return language["digest-letters.answered-on", Day(on), said];
        }

        if (r.Post.LastOrDefault(l => l.Failed) is not null && r.ToldAt is null)
            return language["digest-letters.the-letter-did-not"];
        return r.ToldAt is { } told ? language["digest-letters.told-on-no-answer", Day(told)] : language["digest-letters.nobody-told-yet"];
    }

    private static LetterGroup Capped(string title, IReadOnlyList<LetterItem> items, ReportLanguage language) =>
        items.Count <= Most
            ? new LetterGroup(title, items)
            : new LetterGroup(title, [.. items.Take(Most)]) { Note = language["digest-letters.horses-the-first-are", items.Count, Most] };
}
