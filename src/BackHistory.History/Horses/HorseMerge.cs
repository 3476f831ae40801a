namespace BackHistory.History.Horses;

/// <summary>
/// What stands in the history of a second registration, as events of the one in which it goes on. Ids stay: a visit is the same visit,
/// and links to it find it where it went. What was corrected or withdrawn stays behind, in the history of the registration it was made
/// in. Pure.
/// </summary>
internal static class HorseMerge
{
    /// <param name="history">All events of the second registration, in order.</param>
    /// <param name="into">Where it goes on; what it holds already is not entered again.</param>
    public static IReadOnlyList<IHorseEvent> Standing(IReadOnlyList<object> history, Horse into)
    {
        var standing = new List<IHorseEvent>();
        foreach (var e in history.OfType<IHorseEvent>())
            Fold(standing, e);
        return standing.FindAll(e => !Holds(into, e));
    }

    /// <summary>What only the second registration knew of details, owner and yard; where both say something, what stays
    /// holds.</summary>
    public static IReadOnlyList<IHorseEvent> Filling(IReadOnlyList<object> history, Horse into, TakeIn c, DateTimeOffset now)
    {
        if (history.Aggregate((Horse?)null, Horse.After) is not { } second)
            return [];
        var first = into.Visits.Values.Concat(second.Visits.Values).Where(v => !v.Withdrawn).Select(v => (DateTimeOffset?)v.TakenAt).Min();
        // A day of birth after a visit that stands cannot be this horse's.
        var foaled = second.Foaled is { } born && first is { } taken && ZoneClock.LatestDay(taken) < born ? null : second.Foaled;
        var filled = new HorseDetailsCorrected(
            into.Name,
            into.Sex ?? second.Sex,
            into.Foaled ?? foaled,
            into.HeightMm ?? second.HeightMm,
            into.Breed ?? second.Breed,
            into.Colour ?? second.Colour,
            c.Reason,
            now,
            c.By
        );
        var events = new List<IHorseEvent>();
        if (
            (filled.Sex, filled.Foaled, filled.HeightMm, filled.Breed, filled.Colour)
            != (into.Sex, into.Foaled, into.HeightMm, into.Breed, into.Colour)
        )
            events.Add(filled);
        if (into.OwnerId is null && second.OwnerId is { } owner)
            events.Add(new OwnerChanged(owner, now, c.By));
        if (into.YardId is null && second.YardId is { } yard)
            events.Add(new YardChanged(yard, now, c.By));
        return events;
    }

    private static void Fold(List<IHorseEvent> standing, IHorseEvent e)
    {
        switch (e)
        {
            // Whoever was taken in before goes on too: its notes and audit are found under its own id.
            case HorseMerged
            or VisitRecorded
            or CrossSectionTraced
            or ToplineTraced
            or ReadingTaken
            or ConditionScored
            or MuscleScored
            or Weighed
            or GirthTaped
            or HeightMeasured
            or VisitNoted
            or WorkChanged
            or CareNoted
            or HorseFileAttached
            or CareRoleTaken
            or ConfirmationAsked
            or VisitConfirmed:
                standing.Add(e);
                break;
            case VisitCorrected d:
                Replace<VisitRecorded>(
                    standing,
                    v => v.VisitId == d.VisitId,
                    v => v with { Conditions = d.Conditions, Method = d.Method, TakenAt = d.VisitTakenAt, By = d.TakenBy }
                );
                break;
            case VisitWithdrawn d:
                standing.RemoveAll(s => s is IVisitEvent v && v.VisitId == d.VisitId);
                break;
            case VisitMerged d:
                standing.RemoveAll(s => s is IVisitEvent v && v.VisitId == d.VisitId);
                break;
            case EntryCorrected d:
                standing.RemoveAll(s => s is IVisitEntryEvent v && v.EntryId == d.EntryId);
                break;
            case EntryWithdrawn d:
                standing.RemoveAll(s => s is IVisitEntryEvent v && v.EntryId == d.EntryId);
                break;
            case WorkWithdrawn d:
                standing.RemoveAll(s => s is WorkChanged w && w.WorkId == d.WorkId);
                break;
            case CareEnded d:
                Replace<CareNoted>(standing, c => c.NoteId == d.NoteId, c => c with { Until = d.Until });
                break;
            case CareCorrected d:
                Replace<CareNoted>(standing, c => c.NoteId == d.NoteId, c => c with { Kind = d.Kind, From = d.From, Until = d.Until });
                break;
            case CareWithdrawn d:
                standing.RemoveAll(s => s is CareNoted c && c.NoteId == d.NoteId);
                break;
            case HorseFileRemoved d:
                standing.RemoveAll(s => s is HorseFileAttached f && f.File.FileId == d.FileId);
                break;
            case CareRoleEnded d:
                standing.RemoveAll(s => s is CareRoleTaken r && r.PersonId == d.PersonId && r.Role == d.Role);
                break;
            // Details, owner and yard are those of the registration that stays; what it lacks is filled beside.
            case HorseRegistered
            or HorseDetailsCorrected
            or HorseWithdrawn
            or HorseRestored
            or HorseMergedAway
            or OwnerChanged
            or YardChanged:
                break;
            default:
                throw UnknownEventException.In(nameof(HorseMerge), e);
        }
    }

    private static bool Holds(Horse into, IHorseEvent e) =>
        e switch
        {
            HorseMerged d => into.Merged.Contains(d.DuplicateId),
            IVisitEvent d => into.Visits.ContainsKey(d.VisitId),
            WorkChanged d => into.Noted.ContainsKey(d.WorkId),
            CareNoted d => into.Noted.ContainsKey(d.NoteId),
            HorseFileAttached d => into.Noted.ContainsKey(d.File.FileId),
            CareRoleTaken d => into.Care.Contains(new CarePart(d.PersonId, d.Role)),
            _ => throw UnknownEventException.In(nameof(HorseMerge), e),
        };

    private static void Replace<T>(List<IHorseEvent> standing, Func<T, bool> which, Func<T, T> change)
        where T : IHorseEvent
    {
        var at = standing.FindIndex(s => s is T t && which(t));
        if (at >= 0)
            standing[at] = change((T)standing[at]);
    }
}
