using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Reminders.DryRuns;

/// <summary>How a horse stands at the end of a time under some rules.</summary>
/// <param name="Because">Why it is in that state.</param>
/// <param name="Reminders">Those that stand and are heard, weightiest first.</param>
public sealed record SimulatedOutcome(WatchState State, string Because, IReadOnlyList<SimulatedReminder> Reminders)
{
    /// <summary>Whether nobody would see a difference: the same state, and the same reminders for the same saddles.</summary>
    public bool IsAs(SimulatedOutcome other) =>
        State == other.State
        && Reminders.Select(r => (r.Rule, r.SaddleId)).SequenceEqual(other.Reminders.Select(r => (r.Rule, r.SaddleId)));
}
