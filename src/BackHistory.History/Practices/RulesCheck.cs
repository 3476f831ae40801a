using BackHistory.Trends;

namespace BackHistory.History.Practices;

/// <summary>Whether rules that a practice sends can be watched by.</summary>
internal static class RulesCheck
{
    /// <returns>What is wrong, in a person's words; null when nothing is.</returns>
    public static string? Problem(WatchRules rules)
    {
        if (rules.Thresholds.Count is 0 or > 200) return "Between 1 and 200 thresholds are watched.";
        foreach (var t in rules.Thresholds)
        {
            if (string.IsNullOrWhiteSpace(t.Measure)) return "Each threshold names its measure.";
            if (!(t.Amount > 0 && double.IsFinite(t.Amount))) return $"The threshold of {t.Measure} must be a number above zero.";
        }

        foreach (var n in rules.Noise)
        {
            if (!(n.TraceSd > 0 && n.VisitSd >= 0 && n.PersonSd >= 0)) return $"The noise of {n.Measure} must be above zero.";
        }

        var b = rules.Bars;
        if (!(b.Refit is > 0 and < 1 && b.Watch is > 0 and < 1 && b.RefitEnds <= b.Refit && b.WatchEnds <= b.Watch && b.Watch <= b.Refit))
            return "The bars are probabilities between 0 and 1: watch under refit, and each ends at or below where it begins.";
        var l = rules.Lean;
        if (!(l.Scatter > 0 && l.SharedDegrees >= 0 && l.ReadingOdds > 1 && double.IsFinite(l.Scatter + l.SharedDegrees + l.ReadingOdds)))
            return "What tells a lean is a scatter above zero, degrees of zero or more, and odds above one.";

        var c = rules.Calendar;
        return c.SteadyDays is < 7 or > 1000 || c.CloseDays is < 7 or > 1000 || c.NewSaddleDays is < 1 or > 1000
            ? "Intervals between visits lie between a week and 1000 days."
            : null;
    }
}
