namespace BackHistory.Service.Reminders;

public sealed record PutOffRequest(DateOnly Until, string? Reason);
