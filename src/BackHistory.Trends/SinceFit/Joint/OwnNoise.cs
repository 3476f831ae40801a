namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// What each kind of measure errs by alone, as this horse's own visits show it: the rules' figure holds for any horse and any hand, and
/// most err by less. Of two visits in a row by the same hands the difference is what a visit shares (stance, lean, place) and what each
/// measure has for itself; the part that only the latter explains says how large it is (variance components by EM: Dempster, Laird and
/// Rubin 1977, J. R. Stat. Soc. B 39:1). A change of the back is in those differences too: it makes the judge more careful, never bolder.
/// </summary>
static class OwnNoise
{
    /// <summary>What the rules' figure counts for, in differences of one measure; the bounds of what visits may say against it; and how
    /// many standard deviations out a difference is a change or a slip, and no noise (engineering choices, no source).</summary>
    const double Expected = 12,
        Least = 0.15,
        Most = 4,
        Furthest = 3.5;

    /// <summary>Where little is a measure's own, EM comes near it slowly and from above: what is left by then is on the careful
    /// side.</summary>
    const int Rounds = 6;

    /// <summary>Pairs of visits that measured the same: what is worked out for one holds for all.</summary>
    sealed record Alike(int[] Members, List<double[]> Differences);

    /// <param name="measures">Key of the measure of each series.</param>
    /// <returns>Of each series, the factor on the variance that the rules expect it to err by alone; 1 where no visits tell.</returns>
    internal static double[] Factors(VisitTable table, VisitNoise noise, IReadOnlyList<string> measures)
    {
        // Both sides and all stations err alike.
        string[] kinds =
        [
            .. measures.Select(m => m.Replace("-left", "", StringComparison.Ordinal).Replace("-right", "", StringComparison.Ordinal)),
        ];
        var factors = kinds.Distinct(StringComparer.Ordinal).ToDictionary(k => k, _ => 1.0, StringComparer.Ordinal);
        var alike = PairsOf(table, noise);
        for (var round = 0; round < Rounds && alike.Count > 0; round++)
        {
            var told = factors.Keys.ToDictionary(k => k, _ => (Squares: 0.0, Count: 0), StringComparer.Ordinal);
            foreach (var pairs in alike)
                Take(pairs, noise, kinds, factors, told);
            foreach (var (kind, (squares, count)) in told)
                factors[kind] = Math.Clamp((Expected + squares) / (Expected + count), Least, Most);
        }
        return [.. kinds.Select(k => factors[k])];
    }

    static void Take(
        Alike pairs,
        VisitNoise noise,
        string[] kinds,
        Dictionary<string, double> factors,
        Dictionary<string, (double Squares, int Count)> told
    )
    {
        // Two visits differ by twice the variance of one.
        var members = pairs.Members;
        var n = members.Length;
        double[] expected = [.. members.Select(i => 2 * noise.ExpectedOwn(i))];
        double[] own = [.. members.Select((i, a) => factors[kinds[i]] * expected[a])];
        var covariance = new double[n * n];
        for (var a = 0; a < n; a++)
        for (var b = 0; b <= a; b++)
            covariance[a * n + b] = 2 * noise.SharedVariance(members[a], members[b]) + (a == b ? own[a] : 0);
        VisitNoise.Factor(covariance, n);
        // What stays unknown of each measure's own part after the visit.
        var left = new double[n];
        for (var a = 0; a < n; a++)
        {
            var unit = new double[n];
            unit[a] = 1;
            VisitNoise.Solve(covariance, unit);
            left[a] = own[a] * (1 - own[a] * unit[a]);
        }
        foreach (var difference in pairs.Differences)
        {
            var explained = (double[])difference.Clone();
            VisitNoise.Solve(covariance, explained);
            for (var a = 0; a < n; a++)
            {
                var square = Math.Min(own[a] * own[a] * explained[a] * explained[a], Furthest * Furthest * own[a]);
                var (squares, count) = told[kinds[members[a]]];
                told[kinds[members[a]]] = (squares + (square + left[a]) / expected[a], count + 1);
            }
        }
    }

    /// <summary>Hands without a name count as the same: what others bring is then taken for noise, which is on the careful side.</summary>
    static List<Alike> PairsOf(VisitTable table, VisitNoise noise)
    {
        var found = new List<Alike>();
        for (var v = 1; v < table.Days.Length; v++)
        {
            var (before, now) = (table.Cells[v - 1], table.Cells[v]);
            int[] members =
            [
                .. Enumerable
                    .Range(0, now.Length)
                    .Where(i => noise.Bears(i) && before[i].Measured && now[i].Measured && before[i].Rater == now[i].Rater),
            ];
            if (members.Length == 0)
                continue;
            var same = found.Find(a => a.Members.AsSpan().SequenceEqual(members));
            if (same is null)
                found.Add(same = new(members, []));
            same.Differences.Add([.. members.Select(i => now[i].Value - before[i].Value)]);
        }
        return found;
    }
}
