namespace BackHistory.Trends;

/// <summary>
/// How far a visit's noise is shared between measures, from differences of successive visits: the quadrant correlation (Blomqvist 1950, Ann. Math. Statist.
/// 21:593) counts only signs, so that the few horses that truly moved do not pass for shared noise.
/// </summary>
static class CorrelationLearning
{
    const int FewestPairs = 200;

    /// <returns>Correlation of one station's measures beyond that of the whole back, and the latter; those of the rules with too few pairs of visits.</returns>
    internal static (double SameStation, double WholeBack) Learn(IReadOnlyList<FittedPeriod> periods, WatchRules rules)
    {
        var (same, across) = (new Quadrant(), new Quadrant());
        foreach (var period in periods)
        {
            var series = period.Series.Where(s => s.Observations.Any(o => o.Day <= period.UntilDay)).ToList();
            if (series.Count > 1) Count(VisitTable.Of(series, [.. series.Select(_ => 1.0)], period.UntilDay, rules), series, same, across);
        }
        if (same.Pairs < FewestPairs || across.Pairs < FewestPairs) return (rules.Movement.SameStation, rules.Movement.WholeBack);
        var whole = Math.Clamp(across.Correlation, 0, 0.6);
        return (Math.Clamp(same.Correlation - whole, 0, 0.9 - whole), whole);
    }

    static void Count(VisitTable table, List<WatchedSeries> series, Quadrant same, Quadrant across)
    {
        for (var v = 1; v < table.Days.Length; v++)
            for (var i = 0; i < series.Count; i++)
            {
                if (Difference(table, v, i) is not { } a) continue;
                for (var j = i + 1; j < series.Count; j++)
                    if (Difference(table, v, j) is { } b)
                        (string.Equals(series[i].Station, series[j].Station, StringComparison.Ordinal) ? same : across).Add(a * b);
            }
    }

    /// <summary>Signed so that an opening back raises it; null where stance does not move the measure or either visit lacks it.</summary>
    static double? Difference(VisitTable table, int visit, int series)
    {
        var (now, before) = (table.Cells[visit][series], table.Cells[visit - 1][series]);
        return table.Breathes[series] == 0 || !now.Measured || !before.Measured || now.Hands != before.Hands ? null : table.Breathes[series] * (now.Value - before.Value);
    }

    sealed class Quadrant
    {
        double _sum;

        internal int Pairs { get; private set; }
        /// <summary>Of the normal distribution whose signs agree as often.</summary>
        internal double Correlation => Math.Sin(Math.PI / 2 * _sum / Pairs);

        internal void Add(double product)
        {
            if (product == 0) return;
            Pairs++;
            _sum += Math.Sign(product);
        }
    }
}
