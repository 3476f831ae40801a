using BackHistory.History.Practices;
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
    /// <param name="stands">Whether an entry of a visit was neither corrected nor withdrawn.</param>
    public static IReadOnlyList<TimelineGroup> Group(
        IReadOnlyList<TimelineEntry> entries,
        History.Practices.Practice practice,
        IReadOnlyDictionary<Guid, string> words,
        Func<TimelineEntry, bool> stands
    )
    {
        var groups = new List<TimelineGroup>();
        var visits = new Dictionary<Guid, List<string>>();
        foreach (var entry in entries)
        {
            var at = PracticeClock.Local(practice, entry.TakenAt);
            var recorded = PracticeClock.Local(practice, entry.RecordedAt);
            DateTimeOffset? late = recorded.Date == at.Date ? null : recorded;
            var isVisit = entry is { Group: "visit", VisitId: not null };
            if (isVisit && entry.Kind is not ("visit_corrected" or "visit_withdrawn" or "entry_corrected" or "entry_withdrawn"))
            {
                if (!visits.TryGetValue(entry.VisitId!.Value, out var says))
                {
                    visits[entry.VisitId.Value] = says = ["Visit"];
                    groups.Add(new TimelineGroup(at, late, entry.By, "visit", entry.VisitId, says, entry.Kind, null));
                }

                if (entry.NoteId is { } written && stands(entry) && words.TryGetValue(written, out var found))
                    says.Add(found);
                continue;
            }

            groups.Add(
                new TimelineGroup(
                    at,
                    late,
                    entry.By,
                    entry.Group,
                    null,
                    entry.NoteId is { } note && words.TryGetValue(note, out var said) ? [entry.InWords(), said] : [entry.InWords()],
                    entry.Kind,
                    entry.NoteId
                )
            );
        }

        return groups;
    }

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
