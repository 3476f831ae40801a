namespace BackHistory.History.Reminders.DryRuns;

/// <summary>A setting or alteration that was really done, and the reminder that would have stood before it.</summary>
/// <param name="ReminderOn">When that reminder would have been raised; null without one.</param>
public sealed record SimulatedRefit(Guid HorseId, string Horse, Guid SaddleId, DateOnly On, DateOnly? ReminderOn, ReminderRule? Rule);
