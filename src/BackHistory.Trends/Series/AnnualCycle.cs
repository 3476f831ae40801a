namespace BackHistory.Trends.Series;

/// <summary>A yearly cycle in one measure, offered beside the trend (method.md section 6).</summary>
/// <param name="Amplitude">Half of trough to peak, in the measure's unit.</param>
/// <param name="PeakDayOfYear">1 to 365.</param>
/// <param name="Kept">It lowers AICc: the cycle explains more than its two parameters cost.</param>
/// <param name="Q">Drift intensity with the cycle taken out.</param>
public sealed record AnnualCycle(Uncertain Amplitude, double PeakDayOfYear, double AiccWithout, double AiccWith, bool Kept, double Q)
{
    public const double FromDays = 2 * DriftProcess.YearDays;

    /// <returns>Null under two years of data or with too few visits for AICc.</returns>
    public static AnnualCycle? Offer(IReadOnlyList<Observation> observations, NoiseLayers noise, DriftPrior? prior = null)
    {
        var data = VisitData.From(observations, noise);
        // Level, slope, q and the cycle's two: AICc needs more entries than parameters by two.
        if (data.LastDay - data.FirstDay < FromDays || data.Entries.Length < 8)
            return null;
        prior ??= DriftPrior.RuleOfThumb(data.MedianVariance);
        var (without, with) = (Best(data, prior, annual: false), Best(data, prior, annual: true));
        var (aiccWithout, aiccWith) = (Aicc(without, 3, data.Entries.Length), Aicc(with, 5, data.Entries.Length));
        var (cos, sin) = (with.Regressor(with.AnnualColumn), with.Regressor(with.AnnualColumn + 1));
        var amplitude = Math.Sqrt(cos.Value * cos.Value + sin.Value * sin.Value);
        var (a, b) = (cos.Value / amplitude, sin.Value / amplitude);
        var variance =
            a * a * cos.Sd * cos.Sd
            + b * b * sin.Sd * sin.Sd
            + 2 * a * b * with.RegressorCovariance(with.AnnualColumn, with.AnnualColumn + 1);
        return new(
            new(amplitude, Math.Sqrt(Math.Max(0, variance))),
            PeakOf(cos.Value, sin.Value),
            aiccWithout,
            aiccWith,
            aiccWith < aiccWithout,
            with.Process.Q
        );
    }

    static Posterior Best(VisitData data, DriftPrior prior, bool annual)
    {
        var q = DriftSearch.Mode(prior, q => DiffuseFilter.Run(data, new(q, Annual: annual), []).LogLikelihood);
        return DiffuseFilter.Run(data, new(q, Annual: annual), []);
    }

    /// <summary>Hurvich and Tsai 1989, Biometrika 76:297.</summary>
    static double Aicc(Posterior fit, int parameters, int n) =>
        -2 * fit.ProfileLogLikelihood + 2 * parameters + 2.0 * parameters * (parameters + 1) / (n - parameters - 1);

    static double PeakOf(double cos, double sin)
    {
        var phase = Math.Atan2(sin, cos) / (2 * Math.PI) * DriftProcess.YearDays;
        // Days are counted from 1 January 1970; four-year leap cycles keep the phase within a day.
        return ((phase % DriftProcess.YearDays) + DriftProcess.YearDays) % DriftProcess.YearDays + 1;
    }
}
