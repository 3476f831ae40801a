using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Shape.Gauges;

namespace BackHistory.Application.Practices;

/// <summary>A gauge's table, entered or changed: a new version.</summary>
public sealed class EnterGauge(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(string Key, string Name, string Measure, string Unit, IReadOnlyList<GaugeMark> Marks, string Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            e => GaugeEvents.IsOf(e, input.Key),
            state =>
                PracticeDecider.Decide(
                    state,
                    new ChangeGaugeTable(input.Key, input.Name, input.Measure, input.Unit, input.Marks, input.Reason, by.Context.Actor),
                    by.Context.Now
                ),
            ct
        );
}
