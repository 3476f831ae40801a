namespace BackHistory.History.Horses;

/// <summary>Decisions about what was entered twice.</summary>
public static partial class HorseDecider
{
    /// <param name="into">The registration in which its history goes on, as it stands.</param>
    public static Decided Decide(Horse? horse, MergeAway c, Horse? into, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (c.IntoId == horse!.Id)
            return Decided.No("same-horse", "A horse cannot be merged with itself.", place: "intoId");
        if (HorseRefusals.OfHorse(into) is { } missing)
            return missing with { Place = "intoId" };
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new HorseMergedAway(c.IntoId, c.Reason.Trim(), now, c.By));
    }

    /// <summary>Both halves at once: the second registration is closed, and what stands of it is entered into the one that stays.</summary>
    /// <param name="history">All events of the second registration.</param>
    public static DecidedOnBoth Decide(Horse? horse, MergeAway c, Horse? into, IReadOnlyList<object> history, DateTimeOffset now)
    {
        var away = Decide(horse, c, into, now);
        if (away.Refused is { } refused)
            return refused;
        var taken = Decide(into, new TakeIn(horse!.Id, c.Reason.Trim(), c.By), history, now);
        return new DecidedOnBoth(away.Events, taken.Events, taken.Refused);
    }

    /// <param name="history">All events of the second registration: nothing is added to it any more.</param>
    public static Decided Decide(Horse? horse, TakeIn c, IReadOnlyList<object> history, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (horse!.Merged.Contains(c.DuplicateId))
            return Decided.Yes();
        return Decided
            .Yes([
                new HorseMerged(c.DuplicateId, c.Reason, now, c.By),
                .. HorseMerge.Filling(history, horse, c, now),
                .. HorseMerge.Standing(history, horse),
            ])
            .CarryingOver();
    }

    /// <param name="history">The horse's events up to this version: what the visits hold.</param>
    public static Decided Decide(Horse? horse, MergeVisit c, IReadOnlyList<object> history, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out var twice) is { } missing)
            return missing;
        if (c.VisitId == c.IntoVisitId)
            return Decided.No("same-visit", "A visit cannot be merged with itself.", place: "intoVisitId");
        if (Standing(horse, c.IntoVisitId, out var into) is { } gone)
            return gone with { Place = "intoVisitId" };
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var entries = history.OfType<IVisitEntryEvent>().ToList();
        var held = entries.Where(e => e.VisitId == c.IntoVisitId && into.Entries.GetValueOrDefault(e.EntryId)).Select(PlaceOf).ToHashSet();
        var more = entries.Where(e => e.VisitId == c.VisitId && twice.Entries.GetValueOrDefault(e.EntryId) && !held.Contains(PlaceOf(e)));
        var merged = new VisitMerged(c.VisitId, c.IntoVisitId, c.Reason.Trim(), now, c.By);
        return Decided.Yes([.. more.Select(e => Again(e, c.IntoVisitId, into.TakenAt)), merged]).CarryingOver();
    }

    /// <summary>What an entry says something about: two of the same place are one entered twice.</summary>
    private static (string Kind, string? Station, string? Of) PlaceOf(IVisitEntryEvent e) =>
        e switch
        {
            CrossSectionTraced d => ("cross-section", d.Station, null),
            ReadingTaken d => ("reading", d.Station, d.Measure),
            MuscleScored d => ("muscle", d.Site, d.Scale),
            // Two notes say two things.
            VisitNoted d => ("note", null, d.NoteId.ToString()),
            ToplineTraced or ConditionScored or Weighed or GirthTaped or HeightMeasured => (e.GetType().Name, null, null),
            _ => throw UnknownEventException.In(nameof(MergeVisit), e),
        };

    private static Guid MergedId(Guid entryId, Guid into) => DeterministicId.From("merged", entryId.ToString(), into.ToString());

    private static IVisitEntryEvent Again(IVisitEntryEvent e, Guid visit, DateTimeOffset at) =>
        Again(e, visit, at, MergedId(e.EntryId, visit));

    private static IVisitEntryEvent Again(IVisitEntryEvent e, Guid visit, DateTimeOffset at, Guid id) =>
        e switch
        {
            CrossSectionTraced d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            ToplineTraced d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            ReadingTaken d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            ConditionScored d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            MuscleScored d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            Weighed d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            GirthTaped d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            HeightMeasured d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            VisitNoted d => d with { VisitId = visit, EntryId = id, TakenAt = at },
            _ => throw UnknownEventException.In(nameof(MergeVisit), e),
        };
}
