namespace BackHistory.Service.Reminders;

public sealed record AcceptRequest(IReadOnlyList<AcceptVisit> Visits);
