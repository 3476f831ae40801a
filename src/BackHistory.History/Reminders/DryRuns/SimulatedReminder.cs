namespace BackHistory.History.Reminders.DryRuns;

/// <summary>A reminder that rules would have raised.</summary>
/// <param name="Standing">Its ground stood already when the time began.</param>
/// <param name="Until">The day on which it ended by itself; null while it stood at the end of the time.</param>
public sealed record SimulatedReminder(
    Guid HorseId,
    string Horse,
    Guid? SaddleId,
    ReminderRule Rule,
    DateOnly On,
    DateOnly? Until,
    string Sentence,
    bool Standing
);
