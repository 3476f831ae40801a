using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.History.Reminders.Policy;

/// <summary>From a decision to the one thing that is told of it: the likeliest pattern, else the measure that drives the
/// decision.</summary>
internal static class Findings
{
    /// <summary>A pattern is told when it is at least this likely; below, no pattern stands out and the driving measure speaks (rule of
    /// thumb).</summary>
    private const double Telling = 0.2;

    /// <summary>Measures that are shown with a reminder.</summary>
    private const int Most = 5;

    public static Finding? FindingFrom(HorseDecision decision)
    {
        if (decision.Caution is { } caution)
            return new Finding(FindingKind.Hollower, caution.Station, caution.Side);
        var top = decision.Patterns.Count > 0 && decision.Patterns[0].Share >= Telling ? OfPattern(decision.Patterns[0]) : null;
        return top ?? (decision.Driver is { } driver ? OfMeasure(driver) : null);
    }

    /// <summary>The driving measure, then the others that have probably moved, the likeliest first.</summary>
    public static IReadOnlyList<EvidenceNumber> Numbers(HorseDecision decision, WatchRules rules)
    {
        var driver = decision.Driver;
        var derived = rules.Derived.Select(d => d.Measure).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. decision
                .Measures.Where(m => m == driver || (m.P >= 0.2 && !derived.Contains(m.Measure)))
                .OrderByDescending(m => m == driver)
                .ThenByDescending(m => m.P)
                .ThenBy(m => m.Measure, StringComparer.Ordinal)
                .ThenBy(m => m.Station, StringComparer.Ordinal)
                .Take(Most)
                .Select(m => new EvidenceNumber(
                    m.Measure,
                    m.Station,
                    m.Unit,
                    m.Baseline?.Value,
                    m.Baseline?.Sd,
                    m.Level?.Value,
                    m.Level?.Sd,
                    m.Alone?.Change,
                    m.Alone?.Sd,
                    m.Threshold,
                    m.P
                )),
        ];
    }

    private static Finding? OfPattern(PatternEvidence pattern)
    {
        var grows = pattern.Change.Value >= 0;
        return pattern.Name switch
        {
            "opens" or "front-opens" or "back-opens" => new(
                grows ? FindingKind.Wider : FindingKind.Narrower,
                pattern.Name == "front-opens" ? "front" : pattern.Station,
                null
            ),
            "left-loses" or "left-side-loses" => new(grows ? FindingKind.Hollower : FindingKind.Fuller, pattern.Station, "left"),
            "right-loses" or "right-side-loses" => new(grows ? FindingKind.Hollower : FindingKind.Fuller, pattern.Station, "right"),
            "left-fills" => new(grows ? FindingKind.Fuller : FindingKind.Hollower, pattern.Station, "left"),
            "right-fills" => new(grows ? FindingKind.Fuller : FindingKind.Hollower, pattern.Station, "right"),
            "both-lose" or "back-loses" => new(grows ? FindingKind.Hollower : FindingKind.Fuller, pattern.Station, null),
            "back-covers" => new(grows ? FindingKind.Fuller : FindingKind.Hollower, null, null),
            "topline-sinks" => new(grows ? FindingKind.Lower : FindingKind.Higher, null, null),
            "gains-weight" => new(grows ? FindingKind.Heavier : FindingKind.Lighter, null, null),
            _ => null,
        };
    }

    private static Finding OfMeasure(MeasureDecision m)
    {
        var up = (m.Alone?.Change ?? 0) >= 0;
        var side =
            m.Measure.Contains("left", StringComparison.Ordinal) ? "left"
            : m.Measure.Contains("right", StringComparison.Ordinal) ? "right"
            : null;
        var family = m.Measure.Split('@')[0];
        FindingKind kind = family switch
        {
            "width" or "opening" => up ? FindingKind.Wider : FindingKind.Narrower,
            // A side that falls away less steeply stands further out.
            "slope-left" or "slope-right" or "read-slope-left" or "read-slope-right" => up ? FindingKind.Narrower : FindingKind.Wider,
            "half-area-left" or "half-area-right" or "fill-left" or "fill-right" => up ? FindingKind.Fuller : FindingKind.Hollower,
            "skew-slope" or "skew-shape" or "skew-area" => FindingKind.LessAlike,
            "topline-drop" => up ? FindingKind.Lower : FindingKind.Higher,
            "weight" or "condition" => up ? FindingKind.Heavier : FindingKind.Lighter,
            _ => FindingKind.ChangedShape,
        };
        return new Finding(kind, kind is FindingKind.Heavier or FindingKind.Lighter ? null : m.Station, side);
    }
}
