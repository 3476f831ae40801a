namespace BackHistory.Store.Reminders.Lists;

/// <param name="Next">Null on the last page.</param>
public sealed record ReminderPage(IReadOnlyList<ReminderRow> Rows, ReminderPlace? Next);
