using BackHistory.History;

namespace BackHistory.Service.Reminders;

/// <param name="Refused">Why this one was not booked; null when it was.</param>
public sealed record AcceptedVisit(Guid HorseId, Guid? ReminderId, Refused? Refused);
