using System.Globalization;

namespace BackHistory.Shape.Gauges;

/// <summary>
/// From the baseline and today to what the saddle needs. A proposal for a qualified fitter, who records what was really done.
/// </summary>
public static class SettingProposal
{
    /// <param name="setAt">position on the gauge at which the tree stands now, left and right; absent = where the baseline puts it</param>
    public static Proposal Propose(SettingEvidence baseline, SettingEvidence today, Gauge? gauge, (double Left, double Right)? setAt = null)
    {
        var (changes, unsaid) = (new List<ProposedChange>(), new List<string>());
        if (gauge is null or { Measure: "slope" })
        {
            Tree("tree-left", "The left side of the tree", "slope-left", setAt?.Left);
            Tree("tree-right", "The right side of the tree", "slope-right", setAt?.Right);
        }
        else
            Tree("tree", "The tree", gauge.Measure, setAt?.Left);
        PanelBalance(baseline, today, changes, unsaid);
        MuscleJunction(baseline, today, changes, unsaid);
        return new Proposal(changes, unsaid);

        void Tree(string of, string subject, string key, double? position)
        {
            if (Change(baseline.Section, today.Section, key) is not { } change)
            {
                unsaid.Add($"{subject}: '{key}' is not there both at the baseline and today.");
                return;
            }
            var (before, after) = Setting(gauge, change, position);
            if (gauge is not null && (before is null || after is null))
                unsaid.Add(
                    Said($"{subject}: the gauge '{gauge.Name}' reads {gauge.Range.Least:0.#} to {gauge.Range.Most:0.#} {gauge.Unit},")
                        + " and the setting lies outside it."
                );
            var marks = after?.Position - before?.Position;
            changes.Add(
                new ProposedChange(of, change.Value, change.Sd, change.Unit, marks, after, TreeSentence(subject, change, before, after))
            );
        }
    }

    private sealed record Difference(double Before, double After, double Sd, string Unit)
    {
        internal double Value => After - Before;

        /// <summary>Told from nothing with 95 % confidence.</summary>
        internal bool IsTold => Math.Abs(Value) > 1.96 * Sd;
    }

    private static Difference? Change(IReadOnlyList<Measure> before, IReadOnlyList<Measure> after, string key)
    {
        var (a, b) = (before.FirstOrDefault(m => m.Key == key), after.FirstOrDefault(m => m.Key == key));
        return a?.Value is { } from && b?.Value is { } to ? new Difference(from, to, Math.Sqrt(Square(a.Sd) + Square(b.Sd)), b.Unit) : null;

        static double Square(double? sd) => sd is { } s ? s * s : 0;
    }

    private static (GaugeReading? Before, GaugeReading? After) Setting(Gauge? gauge, Difference change, double? position)
    {
        var before = position is { } p ? gauge?.AtPosition(p) : gauge?.AtValue(change.Before);
        return (before, before is null ? null : gauge!.AtValue(before.Value + change.Value));
    }

    private static string TreeSentence(string subject, Difference change, GaugeReading? before, GaugeReading? after)
    {
        var unit = change.Unit == "deg" ? "°" : " mm";
        if (!change.IsTold)
            return Said($"{subject} needs no change that the tracings can tell ({change.Value:+0.0;−0.0} ± {change.Sd:0.0}{unit}).");
        var marks =
            before is null || after is null
                ? ""
                : Said($", {Math.Abs(after.Position - before.Position):0.0} marks: to '{after.Nearest.Name}' ")
                    + Said($"{after.RemainderMarks:+0.0;−0.0;exactly}");
        var way =
            change.Unit == "deg" ? (change.Value > 0 ? "steeper" : "flatter")
            : change.Value > 0 ? "wider"
            : "narrower";
        return Said($"{subject}: {Math.Abs(change.Value):0.0} ± {change.Sd:0.0}{unit} {way}{marks}.");
    }

    /// <summary>
    /// When the back rises towards the tail, the front of the panel must rise with it for the saddle to sit level, and the other way round.
    /// </summary>
    private static void PanelBalance(SettingEvidence baseline, SettingEvidence today, List<ProposedChange> changes, List<string> unsaid)
    {
        var change = Change(baseline.Topline, today.Topline, "topline-slope@behind-shoulder-last-rib");
        var length = today.Topline.FirstOrDefault(m => m.Key == "bearing-length")?.Value;
        if (change is null || length is null)
        {
            unsaid.Add("The balance of the panel from front to back: there is no topline both at the baseline and today.");
            return;
        }
        var perDegree = length.Value * Math.PI / 180;
        var (height, sd) = (perDegree * change.Value, perDegree * change.Sd);
        var end = height > 0 ? "front" : "rear";
        var sentence = change.IsTold
            ? Said($"The {end} of the panel needs {Math.Abs(height):0} ± {sd:0} mm more height against the other end to sit as it did.")
            : Said($"The balance of the panel needs no change that the tracings can tell ({height:+0;−0} ± {sd:0} mm).");
        changes.Add(new ProposedChange("panel-balance", height, sd, "mm", null, null, sentence));
    }

    /// <summary>The tree's points must not end on the junction of the muscles: where it lies today, and where it has moved.</summary>
    private static void MuscleJunction(SettingEvidence baseline, SettingEvidence today, List<ProposedChange> changes, List<string> unsaid)
    {
        foreach (var side in (string[])["left", "right"])
        {
            var mark = $"muscle-junction-{side}";
            var lateral = today.Section.FirstOrDefault(m => m.Key == $"mark-lateral@{mark}");
            var depth = today.Section.FirstOrDefault(m => m.Key == $"mark-depth@{mark}");
            if (lateral?.Value is not { } out_ || depth?.Value is not { } down)
            {
                unsaid.Add($"The points of the tree on the {side}: the junction of the muscles is not marked today.");
                continue;
            }
            var moved = Change(baseline.Section, today.Section, $"mark-depth@{mark}");
            var since = moved is null
                ? ""
                : Said($", {Math.Abs(moved.Value):0} ± {moved.Sd:0} mm {(moved.Value > 0 ? "lower" : "higher")} than at the baseline");
            changes.Add(
                new ProposedChange(
                    mark,
                    moved?.Value ?? 0,
                    moved?.Sd ?? depth.Sd ?? 0,
                    "mm",
                    null,
                    null,
                    Said($"The {side} muscle junction lies {out_:0} mm out and {down:0} mm down from the midline{since}:")
                        + " keep the point of the tree off it."
                )
            );
        }
    }

    private static string Said(FormattableString sentence) => sentence.ToString(CultureInfo.InvariantCulture);
}
