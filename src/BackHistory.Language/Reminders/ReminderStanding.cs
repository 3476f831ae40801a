using BackHistory.History.Practices;
using BackHistory.History.Reminders;

namespace BackHistory.Language.Reminders;

/// <summary>How a reminder stands, who was told and what became of its letters, for those who run the practice.</summary>
/// <param name="Local">A moment with its time of day, by the practice's clock.</param>
public readonly record struct ReminderStanding(Func<DateTimeOffset, string> Local, ReportLanguage Language = default)
{
    /// <summary>What a reminder of the rule is about, as a heading.</summary>
    public static string Family(ReminderRule rule, ReportLanguage language = default) =>
        rule == ReminderRule.NoVisit ? language["reminder-family.calendar.first"] : language.Name(Families.FamilyOf(rule));

    /// <summary>What is expected of somebody, apart from who was told.</summary>
    public string Stands(Reminder r) =>
        r.State switch
        {
            ReminderState.Pending => Language["reminder-stands.pending", Day(r.HoldUntil)],
            ReminderState.Muted => r.MutedBecause switch
            {
                MuteReason.OutOfWork => Language["reminder-stands.out-of-work"],
                MuteReason.AwaitsVet => Language["reminder-stands.awaits-vet"],
                _ => Language["reminder-stands.covered"],
            },
            ReminderState.PutOff => Language["reminder-stands.put-off", Day(r.PutOffUntil), r.PutOffBecause],
            ReminderState.Booked => Language[
                "reminder-stands.booked",
                r.BookedFor is { } at ? Local(at) : Language["reminder-stands.a-day"]
            ],
            ReminderState.Done or ReminderState.Closed when r.ClearedAt is { } cleared => Language[
                "reminder-stands.cleared",
                Local(cleared)
            ],
            ReminderState.Done => r.ResolvedByVisit is not null ? Language["reminder-stands.done-by-visit"]
            : r.ResolvedByWork is not null ? Language["reminder-stands.done-by-work"]
            : Language["reminder-stands.done"],
            ReminderState.Closed => Language["reminder-stands.closed", r.ClosedBecause],
            ReminderState.Withdrawn => Language["reminder-stands.withdrawn", r.ClosedBecause],
            _ => Language["reminder-stands.open", Local(r.RaisedAt)],
        };

    /// <summary>The one thing that whoever works through a list needs to know.</summary>
    /// <param name="words">Those of whoever answered, where there are some.</param>
    public string InShort(Reminder r, string? words = null) =>
        r switch
        {
            // Somebody drives there, and the owner says that nobody need: that wants a person's decision.
            { State: ReminderState.Booked, Answer: Answer.NotNeeded } => $"{Stands(r)}; {Answered(r, words)}",
            { State: not ReminderState.Open } => Stands(r),
            { Answer: { } answer, AnsweredAt: { } at } => Language["reminder-short.answered", Language.Name(answer), Local(at)],
            { ToldAt: { } told } => Language["reminder-short.told", Local(told)],
            _ when r.Post.Count > 0 && r.Post.All(l => l.Failed) => Language["reminder-short.failed"],
            _ => Language["reminder-short.nobody"],
        };

    /// <summary>What stands of a horse's reminders, the weightiest first, in few words; what is silent, waits or is over says nothing
    /// here.</summary>
    public static string OfHorse(IEnumerable<Reminder> reminders, ReportLanguage language = default) =>
        string.Join(
            "; ",
            reminders
                .Where(r => r.Active)
                .OrderBy(r => Families.FamilyOf(r.Rule))
                .ThenBy(r => r.RaisedAt)
                .Select(r => $"{language.Name(Families.FamilyOf(r.Rule))}: {Mark(r, language)}")
        );

    private static string Mark(Reminder r, ReportLanguage language) =>
        r.State switch
        {
            ReminderState.PutOff => language["reminder-mark.put-off"],
            ReminderState.Booked => language["reminder-mark.booked"],
            _ => language[r.ToldAt is null ? "reminder-mark.open" : "reminder-mark.open-told"],
        };

    /// <param name="people">Names by id; who is not among them is somebody.</param>
    public string Told(Reminder r, IReadOnlyDictionary<Guid, string> people)
    {
        var (language, local) = (Language, Local);
        var reached = r.Post.Where(l => l.Reached).ToList();
        if (reached.Count > 0)
            return string.Join(
                "; ",
                reached
                    .GroupBy(l => l.To)
                    .Select(g =>
                        language[
                            "reminder-told.somebody",
                            people.GetValueOrDefault(g.Key, language["person.unknown"]),
                            local(g.Max(l => l.SentAt ?? l.OwedAt))
                        ]
                    )
            );
        return r.Post.Count == 0 ? language["reminder-told.nobody"]
            : r.Post.All(l => l.Failed) ? language["reminder-told.failed"]
            : language["reminder-told.waits"];
    }

    /// <summary>Whoever it was sent to and who wants no more such letters; null when all of them do.</summary>
    public string? Stopped(Reminder r, IReadOnlyList<Person> people)
    {
        var language = Language;
        var kind = LettersOf.KindOf(r.Rule);
        var stopped = people.Where(p => p.Stopped.Contains(kind) && r.Post.Any(l => l.To == p.Id)).ToList();
        return stopped.Count == 0 ? null : string.Join("; ", stopped.Select(p => language["reminder-told.stopped", p.Name]));
    }

    /// <param name="words">Those of whoever answered, where there are some.</param>
    public string Answered(Reminder r, string? words)
    {
        if (r.Answer is not { } answer)
            return r.ToldAt is null ? Language["reminder-answer.not-asked"] : Language["reminder-answer.none"];
        var said = Language.Name(answer);
        if (!string.IsNullOrWhiteSpace(words))
            said = Language["reminder-answer.with-words", said, words];
        return r.AnsweredAt is { } at ? $"{said} ({Local(at)})" : said;
    }

    /// <summary>What became of a letter.</summary>
    /// <param name="asFile">It was laid down as a file, where there is no mail server.</param>
    public string Fate(LetterTrail l, bool asFile) =>
        l.State switch
        {
            LetterState.Owed => Language["letter-fate.owed"],
            LetterState.Deferred => Language["letter-fate.deferred", l.Note],
            LetterState.Sent when asFile => Language["letter-fate.laid-down", On(l)],
            LetterState.Sent => Language["letter-fate.sent", On(l)] + Note(l),
            LetterState.Delivered => Language["letter-fate.delivered"] + Note(l),
            LetterState.Bounced => Language["letter-fate.bounced", l.Note],
            _ => Language["letter-fate.given-up", l.Note],
        };

    private string Day(DateOnly? day) => day is { } known ? Language.Date(known) : Language["reminder-stands.later-day"];

    private string On(LetterTrail l) => l.SentAt is { } at ? Language["letter-fate.on", Local(at)] : "";

    private static string Note(LetterTrail l) => string.IsNullOrWhiteSpace(l.Note) ? "" : $" ({l.Note})";
}
