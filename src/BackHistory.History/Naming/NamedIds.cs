using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;

namespace BackHistory.History.Naming;

/// <summary>
/// The people and yards that a decision names because somebody gave their ids. Whoever gives the command is not among them, nor is who
/// follows from what stands, the reader of a letter for example. Horses, saddles and visits are streams, and are held where they are
/// decided on.
/// </summary>
public static class NamedIds
{
    /// <summary>How many one decision can name: beyond that it is no list that a person made.</summary>
    public const int Most = 200;

    /// <param name="happened">An event, or a document beside one.</param>
    public static IEnumerable<NamedId> In(object happened) =>
        happened switch
        {
            HorseRegistered e => [.. Person(e.OwnerId, "ownerId"), .. Yard(e.YardId)],
            OwnerChanged e => Person(e.OwnerId, "ownerId"),
            YardChanged e => Yard(e.YardId),
            CareRoleTaken e => Person(e.PersonId, "personId"),
            VisitRecorded e => [.. Person(e.By, "by"), .. Person(e.Conditions.Holder, "conditions.holder")],
            VisitCorrected e => [.. Person(e.TakenBy, "by"), .. Person(e.Conditions.Holder, "conditions.holder")],
            HorseFileAttached e => Shown(e.File),
            SaddleRegistered e => Person(e.OwnerId, "ownerId"),
            SaddleOwnerChanged e => Person(e.OwnerId, "ownerId"),
            SaddleFileAttached e => Shown(e.File),
            ISaddleWork e => Person(e.By, "by"),
            RepeatabilityStudied e => e.Raters.SelectMany((r, i) => Person(r, $"raters[{i}]")),
            VisitBooked e => Person(e.Fitter, "fitterId"),
            AccessGranted e => Person(e.PersonId, "personId"),
            LinkMade e => Person(e.PersonId, "personId"),
            Note n => n.About.SelectMany((a, i) => Person(a, $"about[{i}]")),
            _ => [],
        };

    /// <summary>
    /// What a correction may leave as it is though it is not there any more: who was at a visit or did a piece of work, and was erased
    /// since; and so may a booking that moves to another time.
    /// </summary>
    /// <param name="decided">What a decision makes.</param>
    /// <param name="earlier">The events of the stream so far.</param>
    public static IReadOnlySet<Guid> Standing(IReadOnlyList<object> decided, IEnumerable<object> earlier)
    {
        var visits = decided.OfType<VisitCorrected>().Select(e => e.VisitId).ToHashSet();
        var works = decided.OfType<SaddleWorkCorrected>().Select(e => e.WorkId).ToHashSet();
        return earlier
            .Where(e =>
                e switch
                {
                    VisitRecorded v => visits.Contains(v.VisitId),
                    VisitCorrected v => visits.Contains(v.VisitId),
                    ISaddleWork w => works.Contains(w.WorkId),
                    VisitBooked => true,
                    _ => false,
                }
            )
            .SelectMany(In)
            .Select(n => n.Id)
            .ToHashSet();
    }

    private static IEnumerable<NamedId> Person(Guid? id, string place) => id is { } given ? [new(NamedKind.Person, given, place)] : [];

    private static IEnumerable<NamedId> Yard(Guid? id) => id is { } given ? [new(NamedKind.Yard, given, "yardId")] : [];

    private static IEnumerable<NamedId> Shown(AttachedFile file) => file.Shows.SelectMany((s, i) => Person(s, $"shows[{i}]"));
}
