using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.DryRuns;
using BackHistory.Trends.Rules;

namespace BackHistory.Application.Reminders;

/// <summary>Rules are tried on the practice's own history, in the background; nothing is changed by it.</summary>
public sealed class TryReminderRules(PracticeQueries practices, DryRuns runs, IBackgroundWork work) : IAct
{
    private const int MostYears = 5;

    public static Right Needs => Right.Manage;

    /// <param name="Rules">Null takes those in force.</param>
    /// <param name="Watch">Thresholds and bars; null takes those in force.</param>
    /// <param name="From">Null is a year before <paramref name="To"/>.</param>
    /// <param name="To">Null is today.</param>
    /// <param name="Most">Horses to try them on; null is all of them.</param>
    public sealed record Input(Guid RunId, ReminderRules? Rules, WatchRules? Watch, DateOnly? From, DateOnly? To, int? Most);

    /// <returns>Why nothing was begun; null when it was, now or before.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var tenant = by.Context.Tenant;
        if (await practices.Load(tenant, ct) is not { } practice)
            return PracticeRefusals.NoSuchPractice;
        var to = input.To ?? PracticeClock.Day(practice, by.Context.Now);
        var from = input.From ?? to.AddYears(-1);
        if (from >= to || from < to.AddYears(-MostYears))
            return new Refused("bad-date", "A dry run spans a day to five years.", Place: "from");
        var (rules, watch) = (input.Rules ?? practice.ReminderRules, input.Watch ?? practice.Rules);
        if (PracticeDecider.ProblemOf(rules) is { } problem)
            return new Refused("bad-rules", problem, Place: "rules");
        if (PracticeDecider.ProblemOf(watch) is { } other)
            return new Refused("bad-rules", other, Place: "watch");
        if (await runs.Load(tenant, input.RunId, ct) is not null)
            return null;
        await runs.Ask(tenant, input.RunId, rules, watch, from, to, Math.Max(1, input.Most ?? int.MaxValue), ct);
        work.TryRules(tenant, input.RunId);
        return null;
    }
}
