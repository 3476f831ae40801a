using BackHistory.History.Notes;

namespace BackHistory.History.Horses;

/// <summary>Decisions about a horse's owner, yard, work and care.</summary>
public static partial class HorseDecider
{
    public static Decided Decide(Horse? horse, WithdrawHorse c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        // What went on here from another registration would be closed with it.
        if (horse!.Merged.Count > 0 && horse.Visits.Values.Any(v => !v.Withdrawn))
            return HorseRefusals.TookInAnother;
        return HorseRefusals.OfReason(c.Reason) is { } silent ? silent : Decided.Yes(new HorseWithdrawn(c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Horse? horse, ChangeOwner c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (OfTime(horse!, c.From, now) is { } late)
            return late;
        return horse!.OwnerId == c.OwnerId
            ? Decided.No("same-owner", "The horse is this owner's already.", RefusalKind.Conflict)
            : Decided.Yes(new OwnerChanged(c.OwnerId, c.From, c.By));
    }

    public static Decided Decide(Horse? horse, ChangeYard c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (OfTime(horse!, c.From, now) is { } late)
            return late;
        return horse!.YardId == c.YardId
            ? Decided.No("same-yard", "The horse stands in this yard already.", RefusalKind.Conflict)
            : Decided.Yes(new YardChanged(c.YardId, c.From, c.By));
    }

    public static Decided Decide(Horse? horse, TakeCareRole c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (OfTime(horse!, c.From, now) is { } late)
            return late;
        return horse!.Care.Contains(new CarePart(c.PersonId, c.Role))
            ? Decided.No("same-role", "This person has this part in the horse's care already.", RefusalKind.Conflict)
            : Decided.Yes(new CareRoleTaken(c.PersonId, c.Role, c.From, c.By));
    }

    public static Decided Decide(Horse? horse, EndCareRole c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (OfTime(horse!, c.At, now) is { } late)
            return late;
        return horse!.Care.Contains(new CarePart(c.PersonId, c.Role))
            ? Decided.Yes(new CareRoleEnded(c.PersonId, c.Role, c.At, c.By))
            : Decided.No("no-such-role", "This person has no such part in the horse's care.", RefusalKind.NotFound);
    }

    public static Decided Decide(Horse? horse, NoteCare c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (horse!.Noted.ContainsKey(c.NoteId))
            return HorseRefusals.NoteExists;
        if (OfSpan(c.From, c.Until, now) is { } bad)
            return bad;
        if (Note.OfWords(c.Words) is { } tooLong)
            return tooLong;
        return Decided
            .Yes(new CareNoted(c.NoteId, c.Kind, c.From, c.Until, now, c.By))
            .With(Note.From(c.NoteId, c.Words, c.About, c.By, now));
    }

    public static Decided Decide(Horse? horse, EndCare c, DateTimeOffset now)
    {
        if (Standing(horse, c.NoteId, NotedAs.Care, out var noted) is { } missing)
            return missing;
        if (noted.Until is not null)
            return Decided.No("ended-already", "This has ended already; correct it if the day is wrong.", RefusalKind.Conflict);
        return OfSpan(noted.From!.Value, c.Until, now) is { } bad ? bad : Decided.Yes(new CareEnded(c.NoteId, c.Until, now, c.By));
    }

    public static Decided Decide(Horse? horse, CorrectCare c, DateTimeOffset now)
    {
        if (Standing(horse, c.NoteId, NotedAs.Care, out _) is { } missing)
            return missing;
        if (OfSpan(c.From, c.Until, now) is { } bad)
            return bad;
        if (Note.OfWords(c.Words) is { } tooLong)
            return tooLong;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        return Decided
            .Yes(new CareCorrected(c.NoteId, c.Kind, c.From, c.Until, c.Reason.Trim(), now, c.By))
            .With(Note.From(c.NoteId, c.Words, c.About, c.By, now));
    }

    public static Decided Decide(Horse? horse, WithdrawCare c, DateTimeOffset now)
    {
        if (Standing(horse, c.NoteId, NotedAs.Care, out _) is { } missing)
            return missing;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new CareWithdrawn(c.NoteId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Horse? horse, ChangeWork c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (horse!.Noted.ContainsKey(c.WorkId))
            return HorseRefusals.NoteExists;
        if (OfTime(horse, c.From, now) is { } late)
            return late;
        if (c.Discipline?.Length > 60)
            return Decided.No("too-long", "Keep the discipline under 60 letters.", place: "discipline");
        if (c.HoursPerWeek is { } hours && !Plausible.HoursPerWeek.Holds(hours))
            return Decided.No("bad-hours", "A week has 168 hours.", place: "hoursPerWeek");
        return Decided.Yes(new WorkChanged(c.WorkId, c.Load, Clean(c.Discipline), c.HoursPerWeek, c.From, c.By));
    }

    public static Decided Decide(Horse? horse, WithdrawWorkSpan c, DateTimeOffset now)
    {
        if (Standing(horse, c.WorkId, NotedAs.Work, out _) is { } missing)
            return missing;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new WorkWithdrawn(c.WorkId, c.Reason.Trim(), now, c.By));
    }

    private static Refused? Standing(Horse? horse, Guid id, NotedAs what, out Noted noted)
    {
        noted = null!;
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        return horse!.Noted.TryGetValue(id, out noted!) && noted.Stands && noted.What == what ? null : HorseRefusals.NoSuchNote;
    }

    private static Refused? OfSpan(DateOnly from, DateOnly? until, DateTimeOffset now)
    {
        if (until < from)
            return new Refused("bad-date", "It cannot end before it begins.", Place: "until");
        if (from > ZoneClock.LatestDay(now))
            return HorseRefusals.InTheFuture(from);
        if (Plausible.Day(from, now) is { } early)
            return early with { Place = "from" };
        return until is { } end && Plausible.Day(end, now) is { } late ? late with { Place = "until" } : null;
    }
}
