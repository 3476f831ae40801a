using BackHistory.Trends.Rules;

namespace BackHistory.Trends.Repeats;

/// <summary>From a practice's repeats to the noise of its hands.</summary>
public static class NoiseLearning
{
    /// <param name="visits">Single ones too: visits of one horse close together are repeats of each other.</param>
    /// <param name="rules">Say in which unit a measure's noise is told.</param>
    /// <returns>Null where nothing was ever repeated.</returns>
    public static LearnedNoise? Learn(IReadOnlyList<RepeatedMeasure> visits, WatchRules rules)
    {
        var learned = new List<MeasureNoise>();
        foreach (var measure in visits.GroupBy(v => v.Measure, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            if (rules.NoiseOf(measure.Key) is not { } rule)
                continue;
            var told = measure.GroupBy(v => (v.Visit.Horse, v.Station)).SelectMany(horse => InUnitOf(rule, [.. horse])).ToList();
            var pool = Floored(rule, [.. told.Select(t => t.Visit with { Horse = $"{t.Visit.Horse} {t.Station}" })]);
            if (pool is { Trace: null, Visit: null, Person: null })
                continue;
            learned.Add(new(measure.Key, null, null, null, pool));
            learned.AddRange(
                told.Where(t => t.Visit.By is not null)
                    .GroupBy(t => (t.Station, t.Method, t.Visit.By))
                    .OrderBy(g => g.Key.Station, StringComparer.Ordinal)
                    .ThenBy(g => g.Key.Method, StringComparer.Ordinal)
                    .ThenBy(g => g.Key.By, StringComparer.Ordinal)
                    .Select(g => new MeasureNoise(
                        measure.Key,
                        g.Key.Station,
                        g.Key.Method,
                        g.Key.By,
                        Floored(rule, [.. g.Select(t => t.Visit)])
                    ))
                    .Where(m => m.Study.Trace?.Df >= NoiseStudy.FewestDf || m.Study.Visit?.Df >= NoiseStudy.FewestDf)
            );
        }
        return learned.Count == 0 ? null : new(learned);
    }

    /// <summary>What is learned is what is used: no layer under the part of its rule that a hand can do at best.</summary>
    static NoiseStudy Floored(NoiseRule rule, IReadOnlyList<RepeatedVisit> visits)
    {
        var study = NoiseStudy.From(visits);
        return new(AtLeast(study.Trace, rule.TraceSd), AtLeast(study.Visit, rule.VisitSd), AtLeast(study.Person, rule.PersonSd));
    }

    static NoiseFigure? AtLeast(NoiseFigure? figure, double ruleSd) =>
        figure is null ? null : figure with { Sd = Math.Max(figure.Sd, LearnedNoise.LeastOfRule * ruleSd) };

    /// <summary>Per cent of the horse's own mean where the rule is in per cent, so that large and small horses teach the same.</summary>
    static IEnumerable<RepeatedMeasure> InUnitOf(NoiseRule rule, List<RepeatedMeasure> horse)
    {
        if (!rule.Percent)
            return horse;
        var mean = Math.Abs(horse.SelectMany(v => v.Visit.Tracings).Average());
        return mean == 0
            ? []
            : horse.Select(v => v with { Visit = v.Visit with { Tracings = [.. v.Visit.Tracings.Select(t => 100 * t / mean)] } });
    }
}
