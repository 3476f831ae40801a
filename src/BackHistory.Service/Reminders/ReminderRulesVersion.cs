using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

public sealed record ReminderRulesVersion(int Version, DateTimeOffset At, Guid By, string Reason, ReminderRules Rules);
