using BackHistory.Trends.Series;

namespace BackHistory.Trends.Rules;

/// <summary>
/// The layers of noise of one measure from repeats: tracings within a visit, visits within a few days of each other, hands on the same
/// horse.
/// Analysis of variance of the nested classification (Searle, Casella and McCulloch 1992, Variance Components, ch. 3); a negative
/// component is 0.
/// </summary>
/// <param name="Trace">s_trace; null without two tracings of one visit.</param>
/// <param name="Visit">s_visit; null without two visits of one horse by the same hands close together.</param>
/// <param name="Person">s_person; null without two pairs of hands on one horse close together.</param>
public sealed record NoiseStudy(NoiseFigure? Trace, NoiseFigure? Visit, NoiseFigure? Person)
{
    /// <summary>Figures of one's own count from so many degrees of freedom on (method.md section 4).</summary>
    public const double FewestDf = 10;

    /// <param name="closeDays">Visits of a horse within so many days are repeats: the back did not change between them.</param>
    public static NoiseStudy From(IReadOnlyList<RepeatedVisit> visits, double closeDays = 14)
    {
        var (traceSquares, traceDf) = Within(visits.Select(v => v.Tracings));
        var trace = traceDf > 0 ? new NoiseFigure(Math.Sqrt(traceSquares / traceDf), traceDf) : null;
        var traceVariance = trace is null ? 0 : trace.Sd * trace.Sd;

        var close = visits
            .Where(v => v.Tracings.Count > 0)
            .GroupBy(v => v.Horse, StringComparer.Ordinal)
            .SelectMany(h => Clusters(h, closeDays))
            .ToList();
        var sameRater = close.SelectMany(c => c.GroupBy(v => v.By ?? "", StringComparer.Ordinal)).ToList();
        var visit = Component(sameRater.Select(g => g.Select(v => (v.Tracings.Average(), traceVariance / v.Tracings.Count)).ToList()));
        var visitVariance = visit is null ? 0 : visit.Sd * visit.Sd;

        var raters = close.Select(c =>
            c.GroupBy(v => v.By ?? "", StringComparer.Ordinal).Select(g => MeanOf(g.ToList(), visitVariance, traceVariance)).ToList()
        );
        return new(trace, visit, Component(raters));
    }

    /// <summary>Mean of one pair of hands' visits, with the noise that days and tracings leave in it.</summary>
    static (double Mean, double Noise) MeanOf(List<RepeatedVisit> visits, double visitVariance, double traceVariance)
    {
        double n = visits.Count;
        return (
            visits.Average(v => v.Tracings.Average()),
            visitVariance / n + traceVariance * visits.Sum(v => 1.0 / v.Tracings.Count) / (n * n)
        );
    }

    /// <summary>Minimal detectable change between two visits of so many tracings each, by one pair of hands; null until both layers are
    /// known.</summary>
    public double? MinimalDetectable(int tracings = 1) =>
        Trace is null || Visit is null ? null : Normal.Z95 * Math.Sqrt(2 * (Visit.Sd * Visit.Sd + Trace.Sd * Trace.Sd / tracings));

    /// <summary>The variance of means within their groups beyond the noise of each mean.</summary>
    static NoiseFigure? Component(IEnumerable<List<(double Mean, double Noise)>> groups)
    {
        double noise = 0;
        var members = new List<List<(double Mean, double Noise)>>();
        foreach (var group in groups)
            if (group.Count > 1)
                members.Add(group);
        var (squares, df) = Within(members.Select(g => (IReadOnlyList<double>)[.. g.Select(m => m.Mean)]));
        if (df == 0)
            return null;
        foreach (var group in members)
            noise += (group.Count - 1) * group.Average(m => m.Noise);
        return new(Math.Sqrt(Math.Max(0, (squares - noise) / df)), df);
    }

    static (double Squares, int Df) Within(IEnumerable<IReadOnlyList<double>> groups)
    {
        double squares = 0;
        var df = 0;
        foreach (var group in groups)
        {
            if (group.Count < 2)
                continue;
            squares += SumOfSquares.AboutMean(group);
            df += group.Count - 1;
        }
        return (squares, df);
    }

    static IEnumerable<List<RepeatedVisit>> Clusters(IEnumerable<RepeatedVisit> horse, double closeDays)
    {
        var cluster = new List<RepeatedVisit>();
        foreach (var visit in horse.OrderBy(v => v.Day))
        {
            if (cluster.Count > 0 && visit.Day - cluster[0].Day > closeDays)
            {
                yield return cluster;
                cluster = [];
            }
            cluster.Add(visit);
        }
        if (cluster.Count > 0)
            yield return cluster;
    }
}
