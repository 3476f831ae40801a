namespace BackHistory.Service.Reminders;

public sealed record CloseRequest(string? Reason);
