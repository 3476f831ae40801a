using BackHistory.History.Reminders;
using BackHistory.History.Reminders.DryRuns;
using BackHistory.Trends.Rules;

namespace BackHistory.Store.Reminders.DryRuns;

/// <summary>What other rules would have raised within a time, on the practice's own history.</summary>
/// <param name="Of">Horses of the practice.</param>
/// <param name="Done">Horses rehearsed so far.</param>
/// <param name="Wanted">Horses to rehearse: all, or as many as were asked for.</param>
public sealed record DryRun(
    Guid Id,
    DateOnly From,
    DateOnly To,
    ReminderRules Rules,
    WatchRules Watch,
    int Of,
    int Wanted,
    int Done,
    DateTimeOffset AskedAt,
    DateTimeOffset? FinishedAt,
    string? Failed,
    IReadOnlyList<SimulatedReminder> Reminders,
    IReadOnlyList<SimulatedRefit> Refits
)
{
    /// <summary>Reminders raised within the time, by rule; those whose ground stood already when it began are not counted.</summary>
    public IReadOnlyDictionary<ReminderRule, int> Raised { get; init; } = new Dictionary<ReminderRule, int>();

    /// <summary>Horses that would stand otherwise at the end of the time than under the rules in force; as many as are named.</summary>
    public IReadOnlyList<SimulatedChange> Changes { get; init; } = [];

    /// <summary>How many horses would stand otherwise.</summary>
    public int Changed { get; init; }

    /// <summary>Saddle work done within the time.</summary>
    public int RefitsDone { get; init; }

    /// <summary>Saddle work before which a reminder would have stood.</summary>
    public int RefitsPreceded { get; init; }

    internal DryRun Counted() =>
        this with
        {
            Raised = Reminders.Where(r => !r.Standing).CountBy(r => r.Rule).ToDictionary(),
            Changed = Changes.Count,
            RefitsDone = Refits.Count,
            RefitsPreceded = Refits.Count(r => r.ReminderOn is not null),
        };
}
