using BackHistory.History.Reminders;
using BackHistory.Trends.Rules;

namespace BackHistory.Service.Reminders;

/// <summary>Rules to be tried on the practice's own history.</summary>
/// <param name="Rules">Null takes those in force.</param>
/// <param name="Watch">Thresholds and bars; null takes those in force.</param>
/// <param name="From">Null is a year before <paramref name="To"/>.</param>
/// <param name="To">Null is today.</param>
/// <param name="Most">Horses to rehearse; null is all of them.</param>
public sealed record DryRunRequest(
    ReminderRules? Rules = null,
    WatchRules? Watch = null,
    DateOnly? From = null,
    DateOnly? To = null,
    int? Most = null
);
