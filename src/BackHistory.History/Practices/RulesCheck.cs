using BackHistory.Trends.Rules;

namespace BackHistory.History.Practices;

/// <summary>Whether rules that a practice sends can be watched by.</summary>
public static class RulesCheck
{
    private const int MostRules = 200;

    private static readonly PlausibleRange Probability = new(0, 1);

    private static readonly PlausibleRange Correlation = new(-1, 1);

    private static readonly PlausibleRange Days = new(0, 1000, "days");

    private static readonly PlausibleRange Factor = new(1, 100);

    private static readonly PlausibleRange Years = new(0, 60, "years");

    /// <returns>What is wrong, in a person's words; null when nothing is.</returns>
    public static string? Problem(WatchRules rules)
    {
        if (
            rules
            is not {
                Thresholds: not null,
                Noise: not null,
                Derived: not null,
                Patterns: not null,
                Bars: not null,
                Calendar: not null,
                VetCaution: not null,
                Movement: not null,
            }
        )
            return "A part of the rules is null; leave it out, and it stays as it was shipped.";
        if (rules.Thresholds.Count is 0 or > MostRules)
            return $"Between 1 and {MostRules} thresholds are watched.";
        if (rules.Noise.Count > MostRules || rules.Derived.Count > MostRules || rules.Patterns.Count > MostRules)
            return $"At most {MostRules} rules of a kind are kept.";
        foreach (var t in rules.Thresholds)
        {
            if (string.IsNullOrWhiteSpace(t?.Measure))
                return "Each threshold names its measure.";
            if (!Plausible.Threshold.Holds(t.Amount))
                return $"The threshold of {t.Measure} lies outside {Plausible.Threshold}.";
        }

        foreach (var n in rules.Noise)
        {
            if (string.IsNullOrWhiteSpace(n?.Measure))
                return "Each noise names its measure.";
            if (!(Plausible.Noise.Holds(n.TraceSd) && OrNone(n.VisitSd, Plausible.Noise) && OrNone(n.PersonSd, Plausible.Noise)))
                return $"The noise of {n.Measure} lies outside {Plausible.Noise}; only between days and hands there may be none, 0.";
        }

        return OfBars(rules.Bars)
            ?? OfLean(rules.Lean)
            ?? OfCalendar(rules.Calendar)
            ?? OfCaution(rules)
            ?? OfMovement(rules.Movement)
            ?? OfPatterns(rules.Patterns);
    }

    private static string? OfBars(HorseBars b) =>
        b.Refit is > 0 and < 1
        && b.Watch is > 0 and < 1
        && b.RefitEnds <= b.Refit
        && b.WatchEnds <= b.Watch
        && b.Watch <= b.Refit
        && Probability.Holds(b.RefitEnds)
        && Probability.Holds(b.WatchEnds)
            ? null
            : "The bars are probabilities between 0 and 1: watch under refit, and each ends at or below where it begins.";

    private static string? OfLean(LeanRule l) =>
        Plausible.LeanScatter.Holds(l.Scatter)
        && l.SharedDegrees >= 0
        && l.ReadingOdds > 1
        && ((double[])[l.SharedDegrees, l.ReadingOdds]).All(Plausible.Prior.Holds)
            ? null
            : $"What tells a lean is a scatter of {Plausible.LeanScatter}, degrees of zero or more, and odds above one.";

    private static string? OfCalendar(CalendarRules c) =>
        c.SteadyDays is < 7 or > 1000 || c.CloseDays is < 7 or > 1000 || c.NewSaddleDays is < 1 or > 1000
            ? "Intervals between visits lie between a week and 1000 days."
            : Outside(c.SettledAfterDays, Days, "The days until saddle work has settled")
                ?? Outside(c.FirstVisitDays, Days, "The days until the first visit")
                ?? Outside(c.YoungUnder, Years, "The age of a young horse")
                ?? Outside(c.OldOver, Years, "The age of an old horse")
                ?? Outside(c.WeightChangePercent, Plausible.Percent, "A change of weight");

    private static string? OfCaution(WatchRules rules) =>
        Outside(rules.VetCaution.LossPercent, Plausible.Loss, "The loss that is a matter for a veterinary surgeon")
        ?? Outside(rules.VetCaution.Bar, Probability, "The bar of the caution")
        ?? Outside(rules.MeasureAgainBar, Probability, "The bar of measuring again")
        ?? Outside(rules.BaselineWithinDays, Days, "The days between a fit and its baseline")
        ?? Outside(rules.FlagFactor, Factor, "How much more uncertain a quality flag makes a value");

    private static string? OfMovement(MovementPrior m)
    {
        if (m.Scales is not { Count: > 0 and <= 20 })
            return "Backs move at 1 to 20 paces.";
        foreach (var s in m.Scales)
        {
            if (!(s is { Jump: >= 0 } && Plausible.Pace.Holds(s.Pace) && Plausible.Prior.Holds(s.Jump) && Probability.Holds(s.Share)))
                return $"A pace is {Plausible.Pace} limits a day, its share a probability, its jump not below zero.";
        }

        return Outside(m.PersistenceDays, Plausible.Persistence, "How long a movement persists")
            ?? Outside(m.SteadyPace, Plausible.Pace, "The pace of a steady back")
            ?? Outside(m.IgnorancePace, Plausible.Pace, "The pace at which a back moves unseen")
            ?? Outside(m.MovesPerYear, Plausible.MovesPerYear, "How often backs begin to move in a year")
            ?? Outside(m.LeastMovesPerYear, Days, "How often they do at least")
            ?? Outside(m.SingleShare, Probability, "The share of single measures")
            ?? Outside(m.OutlierShare, Probability, "The share of slips")
            ?? Outside(m.OutlierSize, Plausible.Limit, "The size of a slip")
            ?? Outside(m.SameStation, Correlation, "A correlation")
            ?? Outside(m.WholeBack, Correlation, "A correlation")
            ?? Outside(m.WholeLean, Correlation, "A correlation");
    }

    private const int LongestName = 80;

    private static string? OfPatterns(IReadOnlyList<ChangePattern> patterns)
    {
        foreach (var p in patterns)
        {
            if (p is not { Loadings: not null } || ReadableName.IsMissing(p.Name) || p.Name.Length > LongestName)
                return $"Each pattern has a name of up to {LongestName} letters and says how measures move with it.";
            if (
                !(
                    p.Weight >= 0
                    && Plausible.Prior.Holds(p.Weight)
                    && p.Loadings.Count <= MostRules
                    && p.Loadings.All(l => l is not null && OrNone(Math.Abs(l.Loading), Plausible.Loading))
                )
            )
                return $"The weight of {p.Name} lies outside 0 to {Plausible.Prior.Most}, or one of its loadings outside "
                    + $"{Plausible.Loading} with either sign.";
        }

        return null;
    }

    /// <summary>What is not there is 0; what is there has a least.</summary>
    private static bool OrNone(double value, PlausibleRange range) => value == 0 || range.Holds(value);

    private static string? Outside(double value, PlausibleRange range, string what) =>
        range.Holds(value) ? null : $"{what} lies outside {range}.";
}
