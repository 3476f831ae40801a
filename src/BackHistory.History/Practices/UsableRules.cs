using BackHistory.Trends.Rules;

namespace BackHistory.History.Practices;

/// <summary>
/// Rules as they can be watched by. An earlier release, or an archive that was taken in as it stands, may have stored numbers so small
/// that a trend weighed by them is no number any more: they count as the least that is plausible. What was stored stays as it is.
/// </summary>
internal static class UsableRules
{
    public static WatchRules UsablePart(WatchRules rules) =>
        RulesCheck.Problem(rules) is null
            ? ByContour(rules)
            : ByContour(rules) with
            {
                Thresholds = [.. rules.Thresholds.Select(t => t with { Amount = AtLeast(Plausible.Threshold, t.Amount) })],
                Noise = [.. rules.Noise.Select(Noise)],
                Lean = rules.Lean with { Scatter = AtLeast(Plausible.LeanScatter, rules.Lean.Scatter) },
                Movement = Movement(rules.Movement),
                Patterns = [.. ByContour(rules).Patterns.Select(Pattern)],
            };

    /// <summary>
    /// A pattern that an earlier release stored as it was shipped takes its loadings from the horse's contour, as the shipped one does
    /// today; one that a practice has changed stays as it was set.
    /// </summary>
    private static WatchRules ByContour(WatchRules rules) =>
        rules.Patterns.All(p => p.Deformation is not null)
            ? rules
            : rules with
            {
                Patterns = [.. rules.Patterns.Select(p => p.Deformation is null ? p with { Deformation = Shipped(p)?.Deformation } : p)],
            };

    private static ChangePattern? Shipped(ChangePattern pattern) =>
        WatchRules.Default.Patterns.FirstOrDefault(s => s.Name == pattern.Name && s.Loadings.SequenceEqual(pattern.Loadings));

    private static NoiseRule Noise(NoiseRule rule) =>
        rule with
        {
            TraceSd = AtLeast(Plausible.Noise, rule.TraceSd),
            VisitSd = NoneOr(Plausible.Noise, rule.VisitSd),
            PersonSd = NoneOr(Plausible.Noise, rule.PersonSd),
        };

    private static MovementPrior Movement(MovementPrior prior) =>
        prior with
        {
            MovesPerYear = AtLeast(Plausible.MovesPerYear, prior.MovesPerYear),
            Scales = [.. prior.Scales.Select(s => s with { Pace = AtLeast(Plausible.Pace, s.Pace) })],
            PersistenceDays = AtLeast(Plausible.Persistence, prior.PersistenceDays),
            SteadyPace = AtLeast(Plausible.Pace, prior.SteadyPace),
            IgnorancePace = AtLeast(Plausible.Pace, prior.IgnorancePace),
        };

    private static ChangePattern Pattern(ChangePattern pattern) =>
        pattern with
        {
            Loadings =
            [
                .. pattern.Loadings.Select(l =>
                    l with
                    {
                        Loading = Math.CopySign(NoneOr(Plausible.Loading, Math.Abs(l.Loading)), l.Loading),
                    }
                ),
            ],
        };

    private static double AtLeast(PlausibleRange range, double value) => Math.Max(range.Least, value);

    private static double NoneOr(PlausibleRange range, double value) => value > 0 ? AtLeast(range, value) : value;
}
