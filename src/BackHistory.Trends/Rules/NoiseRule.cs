using BackHistory.Trends.Series;

namespace BackHistory.Trends.Rules;

/// <summary>The three layers of noise of a measure before the practice has repeats of its own (method.md section 4).</summary>
/// <param name="Measure">Key of the measure, or the part before <c>@</c> for all of that family.</param>
/// <param name="TraceSd">Tracing the same horse again in the same visit.</param>
/// <param name="VisitSd">What changes between days though the back did not.</param>
/// <param name="PersonSd">The offset that each pair of hands brings along.</param>
/// <param name="Percent">The three are per cent of the value instead of its unit.</param>
/// <param name="Breathes">1 or −1 when stance and breathing, which open and close the whole back, raise or lower the measure with it; 0
/// when they do not.</param>
public sealed record NoiseRule(string Measure, double TraceSd, double VisitSd, double PersonSd, bool Percent = false, int Breathes = 0)
{
    /// <summary>The layers in the measure's unit, for a series whose values lie about <paramref name="value"/>.</summary>
    public (double TraceSd, NoiseLayers Layers) At(double value)
    {
        var scale = Percent ? Math.Abs(value) / 100 : 1;
        return (TraceSd * scale, new(VisitSd * scale, PersonSd * scale));
    }
}
