namespace BackHistory.History.Horses;

/// <summary>Decides what follows from a command about a horse. Pure: the state and the time come in, events or a refusal go out.</summary>
public static partial class HorseDecider
{
    public static Decided Decide(Horse? horse, RegisterHorse c, DateTimeOffset now)
    {
        if (horse is not null)
            return HorseRefusals.AlreadyRegistered;
        if (HorseRefusals.OfDetails(c.Details, now) is { } bad)
            return bad;
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never;
        var d = c.Details;
        return Decided.Yes(
            new HorseRegistered(
                c.HorseId,
                d.Name.Trim(),
                d.Sex,
                d.Foaled,
                d.HeightMm,
                Clean(d.Breed),
                Clean(d.Colour),
                c.OwnerId,
                c.YardId,
                c.TakenAt,
                c.By
            )
        );
    }

    public static Decided Decide(Horse? horse, CorrectHorse c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (HorseRefusals.OfDetails(c.Details, now) is { } bad)
            return bad;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var first = horse!.Visits.Values.Where(v => !v.Withdrawn).Select(v => (DateTimeOffset?)v.TakenAt).Min();
        if (c.Details.Foaled is { } born && first is { } taken && ZoneClock.LatestDay(taken) < born)
            return HorseRefusals.BeforeBirth(taken, born);
        var d = c.Details;
        return Decided.Yes(
            new HorseDetailsCorrected(
                d.Name.Trim(),
                d.Sex,
                d.Foaled,
                d.HeightMm,
                Clean(d.Breed),
                Clean(d.Colour),
                c.Reason.Trim(),
                now,
                c.By
            )
        );
    }

    public static Decided Decide(Horse? horse, RecordVisit c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (horse!.Visits.ContainsKey(c.VisitId))
            return HorseRefusals.VisitExists;
        if (OfTime(horse!, c.TakenAt, now) is { } late)
            return late;
        if (string.IsNullOrWhiteSpace(c.Method) || c.Method.Length > 60)
            return HorseRefusals.NoMethod;
        var entered = VisitEntries.Enter(c.VisitId, c.Entries, c.TakenAt, c.By);
        if (entered.Refused is { } bad)
            return bad;
        return Decided
            .Yes([new VisitRecorded(c.VisitId, c.Conditions, c.Method.Trim(), c.ProtocolVersion, c.TakenAt, c.By), .. entered.Events])
            .With(entered.SideDocuments)
            .Having(entered.Fits);
    }

    public static Decided Decide(Horse? horse, AddEntries c, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out var visit) is { } missing)
            return missing;
        if (c.Entries.Count == 0)
            return HorseRefusals.NothingEntered;
        if (c.Entries.Any(e => visit.Entries.ContainsKey(e.EntryId)))
            return HorseRefusals.EntryExists;
        return VisitEntries.Enter(c.VisitId, c.Entries, visit.TakenAt, c.By);
    }

    public static Decided Decide(Horse? horse, CorrectVisit c, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out _) is { } missing)
            return missing;
        if (OfTime(horse!, c.TakenAt, now) is { } late)
            return late;
        if (string.IsNullOrWhiteSpace(c.Method) || c.Method.Length > 60)
            return HorseRefusals.NoMethod;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        return Decided.Yes(new VisitCorrected(c.VisitId, c.Conditions, c.Method.Trim(), c.TakenAt, c.TakenBy, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Horse? horse, WithdrawVisit c, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out _) is { } missing)
            return missing;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        return Decided.Yes(new VisitWithdrawn(c.VisitId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Horse? horse, CorrectEntry c, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out var visit) is { } missing)
            return missing;
        if (!visit.Entries.GetValueOrDefault(c.EntryId))
            return HorseRefusals.NoSuchEntry;
        if (visit.Entries.ContainsKey(c.Replacement.EntryId))
            return HorseRefusals.EntryExists;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var entered = VisitEntries.Enter(c.VisitId, [c.Replacement], visit.TakenAt, c.By);
        if (entered.Refused is { } bad)
            return bad;
        return Decided
            .Yes([.. entered.Events, new EntryCorrected(c.VisitId, c.EntryId, c.Replacement.EntryId, c.Reason.Trim(), now, c.By)])
            .With(entered.SideDocuments)
            .Having(entered.Fits);
    }

    public static Decided Decide(Horse? horse, WithdrawEntry c, DateTimeOffset now)
    {
        if (Standing(horse, c.VisitId, out var visit) is { } missing)
            return missing;
        if (!visit.Entries.GetValueOrDefault(c.EntryId))
            return HorseRefusals.NoSuchEntry;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        return Decided.Yes(new EntryWithdrawn(c.VisitId, c.EntryId, c.Reason.Trim(), now, c.By));
    }

    private static Refused? Standing(Horse? horse, Guid visitId, out VisitState visit)
    {
        visit = null!;
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (!horse!.Visits.TryGetValue(visitId, out visit!))
            return HorseRefusals.NoSuchVisit;
        return visit.Withdrawn ? HorseRefusals.VisitGone : null;
    }

    private static Refused? OfTime(Horse horse, DateTimeOffset takenAt, DateTimeOffset now)
    {
        if (takenAt > now && Plausible.Happened(takenAt, now) is { } early)
            return early;
        if (horse.Foaled is { } born && ZoneClock.LatestDay(takenAt) < born)
            return HorseRefusals.BeforeBirth(takenAt, born);
        return Plausible.Happened(takenAt, now);
    }

    private static string? Clean(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
