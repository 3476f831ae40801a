using BackHistory.Trends.Repeats;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Practices;

/// <summary>What a study says of one measure.</summary>
/// <param name="Station">Null: all its stations together.</param>
/// <param name="Repeats">One way analysis of variance of the tracings of one visit; the correlations need a full table.</param>
/// <param name="InUse">The layers that decisions would rest on with this study alone, each with its source.</param>
/// <param name="MinimalDetectable">Between two visits of one tracing each by one pair of hands, in the measure's unit.</param>
/// <param name="Says">In words, where somebody has put them in; a finding is made without.</param>
/// <param name="Agreement">The first tracing against the second; null under two horses.</param>
public sealed record StudyFinding(
    string Measure,
    string? Station,
    string Unit,
    int Horses,
    RepeatabilityResult Repeats,
    NoiseInUse InUse,
    double MinimalDetectable,
    double? Threshold,
    Agreement? Agreement,
    IReadOnlyList<string> Says
)
{
    /// <summary>Every watched measure that was repeated, over all stations first and then at each. Pure.</summary>
    public static IReadOnlyList<StudyFinding> FindingsFrom(
        IReadOnlyList<RepeatedMeasure> repeats,
        WatchRules rules,
        Func<string, string> unitOf
    )
    {
        var noise = NoiseLearning.Learn(repeats, rules);
        var found = new List<StudyFinding>();
        foreach (
            var measure in repeats
                .Where(r => rules.NoiseOf(r.Measure) is not null)
                .GroupBy(r => r.Measure, StringComparer.Ordinal)
                .OrderBy(g => g.Key, StringComparer.Ordinal)
        )
        {
            if (One(measure.Key, null, [.. measure], noise, rules, unitOf) is { } whole)
                found.Add(whole);
            var stations = measure
                .Where(m => m.Station is not null)
                .GroupBy(m => m.Station, StringComparer.Ordinal)
                .OrderBy(g => g.Key, StringComparer.Ordinal)
                .ToList();
            if (stations.Count > 1)
                found.AddRange(stations.Select(s => One(measure.Key, s.Key, [.. s], noise, rules, unitOf)).OfType<StudyFinding>());
        }
        return found;
    }

    private static StudyFinding? One(
        string measure,
        string? station,
        IReadOnlyList<RepeatedMeasure> repeats,
        LearnedNoise? noise,
        WatchRules rules,
        Func<string, string> unitOf
    )
    {
        // Horses of different stations are different subjects; a rater's single column belongs to the row of its horse.
        var rows = repeats
            .GroupBy(r => (r.Visit.Horse, r.Station, Day: Math.Floor(r.Visit.Day)))
            .Select(g => (IReadOnlyList<double>)[.. g.SelectMany(r => r.Visit.Tracings)])
            .Where(r => r.Count > 1)
            .ToList();
        if (rows.Count == 0)
            return null;
        var level = rows.Average(r => Math.Abs(r.Average()));
        var rule = rules.NoiseOf(measure)!;
        var used = UsedWith(noise, rule, measure, level);
        var detectable = used.MinimalDetectable;
        var threshold = rules.ThresholdOf(measure)?.At(level);
        var agreement = BlandAltman.AgreementOf([.. rows.Select(r => (r[0], r[1]))]);
        var unit = unitOf(measure);
        var result = Repeatability.RepeatabilityOf(rows);
        return new StudyFinding(
            measure,
            station,
            unit,
            repeats.Select(r => r.Visit.Horse).Distinct(StringComparer.Ordinal).Count(),
            result,
            used,
            detectable,
            threshold,
            agreement,
            []
        );
    }

    /// <summary>The figures of the study itself, however few: what they are worth is said beside them.</summary>
    private static NoiseInUse UsedWith(LearnedNoise? noise, NoiseRule rule, string measure, double level)
    {
        var (trace, layers) = rule.At(level);
        var scale = rule.Percent ? level / 100 : 1;
        var pool = noise?.Pool(measure);
        return new NoiseInUse(
            pool?.Trace is { } t ? t.Sd * scale : trace,
            pool?.Trace is null ? NoiseSource.RuleOfThumb : NoiseSource.Pool,
            pool?.Visit is { } v ? v.Sd * scale : layers.VisitSd,
            pool?.Visit is null ? NoiseSource.RuleOfThumb : NoiseSource.Pool,
            pool?.Person is { } p ? p.Sd * scale : layers.PersonSd,
            pool?.Person is null ? NoiseSource.RuleOfThumb : NoiseSource.Pool
        );
    }
}
