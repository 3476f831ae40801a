using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>A gauge is no longer used.</summary>
public sealed class RetireGauge(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(string Key, string Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            e => GaugeEvents.IsOf(e, input.Key),
            state => PracticeDecider.Decide(state, new RetireGaugeTable(input.Key, input.Reason, by.Context.Actor), by.Context.Now),
            ct
        );
}
