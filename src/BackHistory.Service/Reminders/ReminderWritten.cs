namespace BackHistory.Service.Reminders;

public sealed record ReminderWritten(Guid Id, long Version);
