namespace BackHistory.Trends.Rules;

/// <summary>How long a horse may go without a visit whatever its numbers say (method.md section 7; rule of thumb).</summary>
/// <param name="SteadyDays">In steady work.</param>
/// <param name="CloseDays">Young, old, back from a lay-off, changing work, or after a change of weight.</param>
/// <param name="YoungUnder">Years of age below which <paramref name="CloseDays"/> holds.</param>
/// <param name="OldOver">Years of age above which it holds.</param>
/// <param name="WeightChangePercent">Change of weight since the baseline from which it holds.</param>
/// <param name="NewSaddleDays">After a new or re-flocked saddle.</param>
/// <param name="SettledAfterDays">A visit earlier than this after the saddle work does not count as the check of how it settled.</param>
/// <param name="FirstVisitDays">From registering a horse to its first visit.</param>
public sealed record CalendarRules(
    int SteadyDays = 180,
    int CloseDays = 90,
    double YoungUnder = 7,
    double OldOver = 18,
    double WeightChangePercent = 5,
    int NewSaddleDays = 42,
    int SettledAfterDays = 14,
    int FirstVisitDays = 30
);
