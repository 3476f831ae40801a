namespace BackHistory.History.Reminders.Planning;

/// <param name="Unplaced">Horses for which the working days of the time do not suffice.</param>
public sealed record ProposedMonth(IReadOnlyList<ProposedStop> Stops, IReadOnlyList<WantedVisit> Unplaced);
