using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.Trends.Learning;

/// <summary>How a visit's noise is shared between measures (<see cref="MovementPrior"/>).</summary>
readonly record struct SharedNoise(double SameStation, double WholeBack, double WholeLean);

/// <summary>
/// How far a visit's noise is shared between measures, from differences of successive visits: the quadrant correlation (Blomqvist 1950,
/// Ann. Math. Statist.
/// 21:593) counts only signs, so that the few horses that truly moved do not pass for shared noise.
/// </summary>
static class CorrelationLearning
{
    const int FewestPairs = 200;

    /// <summary>
    /// Some noise is always a measure's own, and the loadings of patterns are a rule of thumb: with less of it a pattern that a back
    /// follows only roughly would be ruled out by what it misses (engineering choice, no source).
    /// </summary>
    const double MostShared = 0.7,
        MostOfOne = 0.6;

    /// <summary>Lean is a layer of its own and takes nothing from the others: this is four degrees at the shipped noise, and a visit that
    /// leans further is traced again.</summary>
    const double MostLean = 0.9;

    /// <returns>That of the rules with too few pairs of visits.</returns>
    internal static SharedNoise Learn(IReadOnlyList<FittedPeriod> periods, WatchRules rules)
    {
        var pairs = new Pairs();
        foreach (var period in periods)
        {
            var series = period.Series.Where(s => s.Observations.Any(o => o.Day <= period.UntilDay)).ToList();
            if (series.Count > 1)
                Count(VisitTable.From(series, [.. series.Select(_ => 1.0)], period.UntilDay, rules), series, pairs);
        }
        var thumb = new SharedNoise(rules.Movement.SameStation, rules.Movement.WholeBack, rules.Movement.WholeLean);
        if (pairs.Near.Count < FewestPairs || pairs.Far.Count < FewestPairs)
            return thumb;
        if (pairs.OneSide.Count < FewestPairs || pairs.AcrossSides.Count < FewestPairs)
        {
            var only = Math.Clamp(pairs.Far.Correlation, 0, MostOfOne);
            return new(Math.Clamp(pairs.Near.Correlation - only, 0, MostShared - only), only, 0);
        }
        // Of one side whole + lean, across the sides whole − lean.
        var whole = Math.Clamp((pairs.OneSide.Correlation + pairs.AcrossSides.Correlation) / 2, 0, MostOfOne);
        var lean = Math.Clamp((pairs.OneSide.Correlation - pairs.AcrossSides.Correlation) / 2, 0, MostLean);
        var near =
            pairs.NearOneSide.Count < FewestPairs || pairs.NearAcrossSides.Count < FewestPairs
                ? pairs.Near.Correlation
                : (pairs.NearOneSide.Correlation + pairs.NearAcrossSides.Correlation) / 2;
        return new(Math.Clamp(near - whole, 0, MostShared - whole), whole, lean);
    }

    static void Count(VisitTable table, List<WatchedSeries> series, Pairs pairs)
    {
        for (var v = 1; v < table.Days.Length; v++)
        for (var i = 0; i < series.Count; i++)
        {
            if (Difference(table, v, i) is not { } a)
                continue;
            for (var j = i + 1; j < series.Count; j++)
                if (Difference(table, v, j) is { } b)
                    pairs.Add(
                        string.Equals(series[i].Station, series[j].Station, StringComparison.Ordinal),
                        table.Sides[i] * table.Sides[j],
                        a * b
                    );
        }
    }

    /// <summary>Signed so that an opening back raises it; null where stance does not move the measure or either visit lacks it.</summary>
    static double? Difference(VisitTable table, int visit, int series)
    {
        var (now, before) = (table.Cells[visit][series], table.Cells[visit - 1][series]);
        return table.Breathes[series] == 0 || !now.Measured || !before.Measured || now.Rater != before.Rater
            ? null
            : table.Breathes[series] * (now.Value - before.Value);
    }

    /// <summary>Of one station and of different ones, all together and by side.</summary>
    sealed class Pairs
    {
        internal Quadrant Near { get; } = new();
        internal Quadrant NearOneSide { get; } = new();
        internal Quadrant NearAcrossSides { get; } = new();
        internal Quadrant Far { get; } = new();
        internal Quadrant OneSide { get; } = new();
        internal Quadrant AcrossSides { get; } = new();

        internal void Add(bool near, int sides, double product)
        {
            (near ? Near : Far).Add(product);
            if (sides > 0)
                (near ? NearOneSide : OneSide).Add(product);
            else if (sides < 0)
                (near ? NearAcrossSides : AcrossSides).Add(product);
        }
    }

    sealed class Quadrant
    {
        double _sum;

        internal int Count { get; private set; }

        /// <summary>Of the normal distribution whose signs agree as often.</summary>
        internal double Correlation => Math.Sin(Math.PI / 2 * _sum / Count);

        internal void Add(double product)
        {
            if (product == 0)
                return;
            Count++;
            _sum += Math.Sign(product);
        }
    }
}
