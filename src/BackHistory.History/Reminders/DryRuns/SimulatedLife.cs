namespace BackHistory.History.Reminders.DryRuns;

/// <summary>What a horse's history would have been under some rules.</summary>
/// <param name="AtTheEnd">Null of a horse that was not registered yet.</param>
public sealed record SimulatedLife(
    IReadOnlyList<SimulatedReminder> Reminders,
    IReadOnlyList<SimulatedRefit> Refits,
    SimulatedOutcome? AtTheEnd
);
