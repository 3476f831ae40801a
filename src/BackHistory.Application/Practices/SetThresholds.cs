using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Trends.Rules;

namespace BackHistory.Application.Practices;

/// <summary>What the practice watches for: limits, noise and bars, whole.</summary>
public sealed class SetThresholds(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(WatchRules Rules, string Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state => PracticeDecider.Decide(state, new ChangeWatchRules(input.Rules, input.Reason, by.Context.Actor), by.Context.Now),
            ct
        );
}
