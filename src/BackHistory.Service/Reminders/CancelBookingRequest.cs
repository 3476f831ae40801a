namespace BackHistory.Service.Reminders;

public sealed record CancelBookingRequest(string? Reason, bool Tell = true);
