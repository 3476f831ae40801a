namespace BackHistory.History.Reminders.DryRuns;

/// <summary>A horse that would stand otherwise under the rules that are tried than under those in force.</summary>
/// <param name="Now">Under the rules in force.</param>
/// <param name="Then">Under those that are tried.</param>
public sealed record SimulatedChange(Guid HorseId, string Horse, SimulatedOutcome Now, SimulatedOutcome Then);
