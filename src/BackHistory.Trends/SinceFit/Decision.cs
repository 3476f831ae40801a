using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit;

/// <summary>The decision on one measure.</summary>
/// <param name="Change">Δ since the baseline, in the measure's unit.</param>
/// <param name="Sd">Standard deviation of Δ.</param>
/// <param name="Threshold">T, the change that matters, in the measure's unit.</param>
/// <param name="P">max(P(Δ &gt; T), P(Δ &lt; −T)).</param>
public sealed record Decision(WatchState State, double Change, double Sd, double Threshold, double P)
{
    public static Decision Decide(Uncertain change, double threshold, DecisionBars? bars = null)
    {
        bars ??= DecisionBars.Default;
        var p = Passed(change, threshold);
        var state =
            p >= bars.Refit ? WatchState.Refit
            : change.Sd > threshold ? WatchState.Unknown
            : p >= bars.Watch ? WatchState.Watch
            : WatchState.Steady;
        return new(state, change.Value, change.Sd, threshold, p);
    }

    /// <summary>The probability that a change lies past ±threshold in the likelier direction.</summary>
    public static double Passed(Uncertain change, double threshold)
    {
        if (change.Sd == 0)
            return Math.Abs(change.Value) > threshold ? 1 : 0;
        return Normal.Cdf((Math.Abs(change.Value) - threshold) / change.Sd);
    }
}
