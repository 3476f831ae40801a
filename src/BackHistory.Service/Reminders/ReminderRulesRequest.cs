using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>The practice's reminder rules, whole, with the reason of the change.</summary>
public sealed record ReminderRulesRequest(ReminderRules Rules, string? Reason);
