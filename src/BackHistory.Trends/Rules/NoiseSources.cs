namespace BackHistory.Trends.Rules;

public static class NoiseSources
{
    /// <summary>
    /// The first source that applies, layer by layer (method.md section 4). Own figures are drawn towards the pool as variances weighed
    /// by degrees of freedom:
    /// s² = (df·s²_own + d·s²_pool)/(df + d) with d = <see cref="NoiseStudy.FewestDf"/> (Smyth 2004, Stat. Appl. Genet. Mol. Biol. 3:3).
    /// </summary>
    /// <param name="own">Repeats of this method, station and person; null = none.</param>
    /// <param name="value">The value about which the series lies, for rules in per cent.</param>
    public static NoiseInUse Choose(NoiseStudy? own, NoiseStudy? pool, NoiseRule rule, double value)
    {
        var (traceSd, layers) = rule.At(value);
        var (trace, traceFrom) = Layer(own?.Trace, pool?.Trace, traceSd);
        var (visit, visitFrom) = Layer(own?.Visit, pool?.Visit, layers.VisitSd);
        // A person's offset cannot be seen in one person's repeats.
        var (person, personFrom) = Layer(null, pool?.Person, layers.PersonSd);
        return new(trace, traceFrom, visit, visitFrom, person, personFrom);
    }

    static (double Sd, NoiseSource From) Layer(NoiseFigure? own, NoiseFigure? pool, double rule)
    {
        var pooled = pool is { Df: >= NoiseStudy.FewestDf } ? pool.Sd : rule;
        if (own is { Df: >= NoiseStudy.FewestDf })
        {
            const double d = NoiseStudy.FewestDf;
            return (Math.Sqrt((own.Df * own.Sd * own.Sd + d * pooled * pooled) / (own.Df + d)), NoiseSource.Own);
        }
        return (pooled, pool is { Df: >= NoiseStudy.FewestDf } ? NoiseSource.Pool : NoiseSource.RuleOfThumb);
    }
}
