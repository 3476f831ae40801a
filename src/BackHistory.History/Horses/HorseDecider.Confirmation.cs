namespace BackHistory.History.Horses;

/// <summary>Decisions about what apprentices enter.</summary>
public static partial class HorseDecider
{
    /// <summary>The same decision, with the question to confirm it at its end.</summary>
    public static Decided AskingConfirmation(Decided decided, Guid visitId, Guid by, DateTimeOffset now) =>
        decided.Refused is not null || decided.Events.Count == 0
            ? decided
            : Decided.Yes([.. decided.Events, new ConfirmationAsked(visitId, now, by)]).With(decided.SideDocuments).Having(decided.Fits);

    public static Decided Decide(Horse? horse, ConfirmVisit c, DateTimeOffset now)
    {
        if (horse is null)
            return HorseRefusals.NoSuchHorse;
        if (!horse.Visits.TryGetValue(c.VisitId, out var visit))
            return HorseRefusals.NoSuchVisit;
        if (visit.Withdrawn)
            return HorseRefusals.VisitGone;
        // Confirmed twice is confirmed.
        return visit.AwaitsConfirmation ? Decided.Yes(new VisitConfirmed(c.VisitId, now, c.By)) : Decided.Yes();
    }
}
