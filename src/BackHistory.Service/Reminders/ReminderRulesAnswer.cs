using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

public sealed record ReminderRulesAnswer(int Version, ReminderRules Rules);
