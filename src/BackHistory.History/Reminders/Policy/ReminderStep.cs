namespace BackHistory.History.Reminders.Policy;

/// <summary>What an evaluation does about reminders: one command on one reminder's stream.</summary>
public abstract record ReminderStep(Guid ReminderId);
