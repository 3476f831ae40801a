using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Timeline;
using BackHistory.Language.Timeline;
using BackHistory.Store.Sharing;

namespace BackHistory.Service.Horses;

/// <summary>Timeline entries that a page shows as one: those of one visit together.</summary>
/// <param name="Recorded">When it was entered, where that is another day than it was true.</param>
/// <param name="Kind">The event's alias; of a visit, that of its first line.</param>
/// <param name="NoteId">The note of its care that the line is about.</param>
public sealed record TimelineGroup(
    DateTimeOffset At,
    DateTimeOffset? Recorded,
    Guid By,
    string Css,
    Guid? VisitId,
    IReadOnlyList<string> Says,
    string Kind,
    Guid? NoteId
)
{
    /// <param name="visits">Of the horse, by their ids: what of them does not stand any more is marked so.</param>
    /// <param name="reminders">Of the horse, by their ids: with them a letter is one line, where it came to be owed.</param>
    /// <param name="letter">What a letter is, to whom it goes and where it stands now.</param>
    public static IReadOnlyList<TimelineGroup> Group(
        IReadOnlyList<TimelineEntry> entries,
        History.Practices.Practice practice,
        IReadOnlyDictionary<Guid, string> words,
        IReadOnlyDictionary<Guid, VisitRecord> visits,
        IReadOnlyDictionary<Guid, Reminder>? reminders = null,
        Func<LetterTrail, string>? letter = null
    )
    {
        var groups = new List<TimelineGroup>();
        var shown = new Dictionary<Guid, List<string>>();
        var putBack = visits.Values.Where(v => v.Withdrawn && visits.ContainsKey(VisitIds.RestoredId(v.Id))).Select(v => v.Id).ToHashSet();
        var told = new Dictionary<(Guid?, DateTimeOffset), int>();
        var again = putBack.Select(VisitIds.RestoredId).ToHashSet();
        foreach (var entry in entries)
        {
            var at = PracticeClock.Local(practice, entry.TakenAt);
            var recorded = PracticeClock.Local(practice, entry.RecordedAt);
            DateTimeOffset? late = recorded.Date == at.Date ? null : recorded;
            var isVisit = entry is { Group: "visit", VisitId: not null };
            // It stands again under another id: one visit is shown once.
            if (isVisit && putBack.Contains(entry.VisitId!.Value) && entry.Kind != "visit_withdrawn")
                continue;
            if (isVisit && entry.Kind is not ("visit_corrected" or "visit_withdrawn" or "entry_corrected" or "entry_withdrawn"))
            {
                if (!shown.TryGetValue(entry.VisitId!.Value, out var says))
                {
                    shown[entry.VisitId.Value] = says = [Called(visits.GetValueOrDefault(entry.VisitId.Value))];
                    if (again.Contains(entry.VisitId.Value))
                        groups.Add(new TimelineGroup(recorded, null, Guid.Empty, "visit", null, [PutBack], "visit_put_back", null));
                    groups.Add(new TimelineGroup(at, late, entry.By, "visit", entry.VisitId, says, entry.Kind, null));
                }

                if (entry.NoteId is { } written && Stands(entry) && words.TryGetValue(written, out var found))
                    says.Add(found);
                continue;
            }

            // What became of a letter stands in its line.
            if (entry.Kind != "letter_owed" && entry.Kind.StartsWith("letter_", StringComparison.Ordinal) && Trails(entry).Count > 0)
                continue;
            if (letter is not null && entry.Kind == "letter_owed" && Trail(entry) is { } trail)
            {
                groups.Add(new TimelineGroup(at, late, entry.By, entry.Group, null, [letter(trail)], entry.Kind, null));
                continue;
            }

            groups.Add(
                new TimelineGroup(
                    at,
                    late,
                    entry.By,
                    entry.Group,
                    null,
                    entry.NoteId is { } note && words.TryGetValue(note, out var said) ? [InWords(entry), said] : [InWords(entry)],
                    entry.Kind,
                    entry.NoteId
                )
            );
        }

        return again.Count == 0 ? groups : [.. groups.OrderByDescending(g => g.At)];

        IReadOnlyList<LetterTrail> Trails(TimelineEntry entry) =>
            entry.ReminderId is { } id && reminders?.TryGetValue(id, out var of) == true ? of.Post : [];

        // Several may have come to be owed at one moment; the latest stands first.
        LetterTrail? Trail(TimelineEntry entry)
        {
            var key = (entry.ReminderId, entry.TakenAt);
            var nth = told.GetValueOrDefault(key);
            told[key] = nth + 1;
            var owed = Trails(entry).Where(l => l.OwedAt == entry.TakenAt).ToList();
            return nth < owed.Count ? owed[owed.Count - 1 - nth] : null;
        }

        string InWords(TimelineEntry entry) => entry.InWords(PracticeClock.Zone(practice));

        bool Stands(TimelineEntry entry) =>
            !visits.TryGetValue(entry.VisitId!.Value, out var visit) || visit.Entries.Any(e => e.EntryId == entry.EntryId && e.Stands);
    }

    private const string PutBack = "Visit put back: it counts again.";

    private static string Called(VisitRecord? visit) =>
        visit switch
        {
            { MergedInto: not null } => "Visit, merged into another of the same horse",
            { Withdrawn: true } => "Visit, withdrawn: it does not count",
            { AwaitsConfirmation: true } => "Visit, not confirmed yet: it does not count",
            _ => "Visit",
        };

    /// <summary>With what somebody outside the practice wrote about the horse, each at its moment.</summary>
    /// <param name="lines">A page of the history, the latest first.</param>
    /// <param name="isFirst">Nothing later stands on another page.</param>
    /// <param name="isLast">Nothing earlier does.</param>
    public static IReadOnlyList<TimelineGroup> With(
        IReadOnlyList<TimelineGroup> lines,
        IReadOnlyList<Comment> comments,
        History.Practices.Practice practice,
        bool isFirst,
        bool isLast
    )
    {
        var (latest, earliest) = lines.Count == 0 ? (DateTimeOffset.MinValue, DateTimeOffset.MaxValue) : (lines[0].At, lines[^1].At);
        var written = comments
            .Where(c => (isFirst || c.At <= latest) && (isLast || c.At > earliest))
            .Select(c => new TimelineGroup(
                PracticeClock.Local(practice, c.At),
                null,
                c.PersonId ?? Guid.Empty,
                "share",
                null,
                [$"Comment of the {ReportLanguage.English.Name(c.Role)}", c.Words],
                "commented",
                null
            ))
            .ToList();
        return written.Count == 0 ? lines : [.. lines.Concat(written).OrderByDescending(l => l.At)];
    }
}
