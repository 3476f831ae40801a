namespace BackHistory.Trends;

/// <summary>The three layers of noise of a measure before the practice has repeats of its own (method.md section 4).</summary>
/// <param name="Measure">Key of the measure, or the part before <c>@</c> for all of that family.</param>
/// <param name="TraceSd">Tracing the same horse again in the same visit.</param>
/// <param name="VisitSd">What changes between days though the back did not.</param>
/// <param name="PersonSd">The offset that each pair of hands brings along.</param>
/// <param name="Percent">The three are per cent of the value instead of its unit.</param>
public sealed record NoiseRule(string Measure, double TraceSd, double VisitSd, double PersonSd, bool Percent = false)
{
    /// <summary>The layers in the measure's unit, for a series whose values lie about <paramref name="value"/>.</summary>
    public (double TraceSd, NoiseLayers Layers) At(double value)
    {
        var scale = Percent ? Math.Abs(value) / 100 : 1;
        return (TraceSd * scale, new(VisitSd * scale, PersonSd * scale));
    }
}

/// <summary>The threshold of a measure.</summary>
/// <param name="Measure">Key of the measure, or the part before <c>@</c> for all of that family.</param>
public sealed record ThresholdRule(string Measure, double Amount, bool PercentOfBaseline = false)
{
    public Threshold Threshold => new(Amount, PercentOfBaseline);
}

/// <summary>A state begins at one probability and ends at a lower one, so that it does not flicker about the bar.</summary>
/// <param name="Refit">p from which the state is refit.</param>
/// <param name="RefitEnds">p under which a horse that was in refit leaves it without saddle work.</param>
/// <param name="Watch">p from which the state is watch.</param>
/// <param name="WatchEnds">p under which a horse that was in watch leaves it.</param>
public sealed record HorseBars(double Refit = 0.80, double RefitEnds = 0.50, double Watch = 0.20, double WatchEnds = 0.10);
