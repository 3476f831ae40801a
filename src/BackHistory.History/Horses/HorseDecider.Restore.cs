namespace BackHistory.History.Horses;

/// <summary>Decisions that put back what was withdrawn, and that give a visit to the horse it was taken of. What they enter was judged
/// when it was entered first.</summary>
public static partial class HorseDecider
{
    /// <summary>What stood when it was withdrawn stands again: nothing was entered since, and nothing was taken from it.</summary>
    public static Decided Decide(Horse? horse, RestoreHorse c, DateTimeOffset now) =>
        horse switch
        {
            null => HorseRefusals.NoSuchHorse,
            { MergedInto: { } into } => HorseRefusals.MergedAway(into),
            { Withdrawn: false } => HorseRefusals.HorseStands,
            _ => HorseRefusals.OfReason(c.Reason) is { } silent ? silent : Decided.Yes(new HorseRestored(c.Reason.Trim(), now, c.By)),
        };

    /// <param name="history">The horse's events up to this version: what the visit held.</param>
    public static Decided Decide(Horse? horse, RestoreVisit c, IReadOnlyList<object> history, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (!horse!.Visits.TryGetValue(c.VisitId, out var visit))
            return HorseRefusals.NoSuchVisit;
        if (!visit.Withdrawn)
            return HorseRefusals.VisitStands;
        var again = VisitIds.RestoredId(c.VisitId);
        if (horse.Visits.ContainsKey(again))
            return HorseRefusals.VisitRestored;
        var taken = Recorded(history, c.VisitId);
        var entries = StandingEntries(history, c.VisitId, visit);
        List<object> events = [taken with { VisitId = again }, .. entries.Select(e => Again(e, again, taken.TakenAt))];
        if (history.OfType<VisitMerged>().LastOrDefault(m => m.VisitId == c.VisitId) is { IntoVisitId: var into })
            events.AddRange(TakenOver(horse, into, entries, c, now));
        return Decided.Yes(events).CarryingOver();
    }

    /// <param name="history">The horse's events up to this version: what the entry held.</param>
    public static Decided Decide(Horse? horse, RestoreEntry c, IReadOnlyList<object> history, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out var visit) is { } missing)
            return missing;
        if (!visit.Entries.TryGetValue(c.EntryId, out var stands))
            return HorseRefusals.NoSuchEntry;
        var again = VisitIds.RestoredId(c.EntryId);
        if (stands || visit.Entries.ContainsKey(again))
            return HorseRefusals.EntryStands;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var entry = history.OfType<IVisitEntryEvent>().Last(e => e.EntryId == c.EntryId);
        var restored = Again(entry, c.VisitId, visit.TakenAt, again);
        var later = history.OfType<EntryCorrected>().ToDictionary(e => e.EntryId, e => e.ReplacedBy);
        var last = c.EntryId;
        while (later.TryGetValue(last, out var next))
            last = next;
        return visit.Entries.GetValueOrDefault(last)
            ? Decided.Yes(restored, new EntryCorrected(c.VisitId, last, again, c.Reason.Trim(), now, c.By)).CarryingOver()
            : Decided.Yes(restored).CarryingOver();
    }

    /// <summary>Both halves at once: the visit is withdrawn here, and what stood of it is entered there.</summary>
    /// <param name="to">The horse that was measured, as it stands.</param>
    /// <param name="history">The first horse's events up to this version.</param>
    public static DecidedOnBoth Decide(Horse? horse, GiveVisit c, Horse? to, IReadOnlyList<object> history, DateTimeOffset now)
    {
        var away = Decide(horse, new WithdrawVisit(c.VisitId, c.Reason, c.By), now);
        if (away.Refused is { } refused)
            return refused;
        if (c.ToHorseId == horse!.Id)
            return new Refused("same-horse", "The visit stands at this horse already. Choose another.", Place: "to");
        if (HorseRefusals.OfHorse(to) is { } missing)
            return missing with { Place = "to" };
        var taken = Recorded(history, c.VisitId);
        if (OfTime(to!, taken.TakenAt, now) is { } unborn)
            return unborn with { Place = "to" };
        var given = VisitIds.GivenId(c.VisitId, c.ToHorseId);
        if (to!.Visits.ContainsKey(given))
            return HorseRefusals.VisitExists;
        var visit = horse.Visits[c.VisitId];
        List<object> there =
        [
            taken with
            {
                VisitId = given,
            },
            .. StandingEntries(history, c.VisitId, visit).Select(e => Again(e, given, taken.TakenAt)),
        ];
        if (visit.AwaitsConfirmation)
            there.Add(new ConfirmationAsked(given, now, visit.By));
        return new DecidedOnBoth(away.Events, there, null);
    }

    /// <summary>The visit's details with every correction.</summary>
    private static VisitRecorded Recorded(IReadOnlyList<object> history, Guid visitId)
    {
        var taken = history.OfType<VisitRecorded>().Last(v => v.VisitId == visitId);
        return history.OfType<VisitCorrected>().LastOrDefault(v => v.VisitId == visitId) is { } d
            ? taken with
            {
                Conditions = d.Conditions,
                Method = d.Method,
                TakenAt = d.VisitTakenAt,
                By = d.TakenBy,
            }
            : taken;
    }

    private static List<IVisitEntryEvent> StandingEntries(IReadOnlyList<object> history, Guid visitId, VisitState visit) =>
        [.. history.OfType<IVisitEntryEvent>().Where(e => e.VisitId == visitId && visit.Entries.GetValueOrDefault(e.EntryId))];

    /// <summary>What a merge entered into the other visit leaves it again.</summary>
    private static IEnumerable<EntryWithdrawn> TakenOver(
        Horse horse,
        Guid into,
        List<IVisitEntryEvent> entries,
        RestoreVisit c,
        DateTimeOffset now
    ) =>
        horse.Visits.TryGetValue(into, out var other) && !other.Withdrawn
            ? entries
                .Select(e => MergedId(e.EntryId, into))
                .Where(id => other.Entries.GetValueOrDefault(id))
                .Select(id => new EntryWithdrawn(into, id, "The two visits were two after all.", now, c.By))
            : [];
}
