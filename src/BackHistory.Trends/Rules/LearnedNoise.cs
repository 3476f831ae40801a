namespace BackHistory.Trends.Rules;

/// <summary>What a practice's repeats say of its own hands. Plain data: a version of it stands in an event, so that an old decision can
/// be explained.</summary>
public sealed record LearnedNoise(IReadOnlyList<MeasureNoise> Measures)
{
    /// <summary>A number typed twice would claim a hand that never errs: no layer counts for less than this part of its rule of thumb
    /// (engineering choice, no source).</summary>
    public const double LeastOfRule = 0.25;

    /// <summary>The layers in the measure's unit, each from the first source that applies (method.md section 4).</summary>
    /// <param name="value">About which the series lies, for rules in per cent.</param>
    public NoiseInUse NoiseFor(NoiseRule rule, string measure, string? station, string? method, string? by, double value)
    {
        var own = method is null || by is null ? null : Find(measure, station, method, by);
        var used = NoiseSources.Choose(own, Find(measure, null, null, null), rule, rule.Percent ? 100 : value);
        var scale = rule.Percent ? Math.Abs(value) / 100 : 1;
        return used with
        {
            TraceSd = Math.Max(used.TraceSd, LeastOfRule * rule.TraceSd) * scale,
            VisitSd = Math.Max(used.VisitSd, LeastOfRule * rule.VisitSd) * scale,
            PersonSd = Math.Max(used.PersonSd, LeastOfRule * rule.PersonSd) * scale,
        };
    }

    /// <summary>All repeats of the practice in one measure, or null without any.</summary>
    public NoiseStudy? Pool(string measure) => Find(measure, null, null, null);

    NoiseStudy? Find(string measure, string? station, string? method, string? by)
    {
        foreach (var m in Measures)
            if (m.Measure == measure && m.Station == station && m.Method == method && m.By == by)
                return m.Study;
        return null;
    }
}
