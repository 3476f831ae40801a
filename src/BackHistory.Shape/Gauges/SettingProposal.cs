namespace BackHistory.Shape.Gauges;

/// <summary>
/// From the baseline and today to what the saddle needs. A proposal for a qualified fitter, who records what was really done.
/// </summary>
public static class SettingProposal
{
    /// <param name="setAt">position on the gauge at which the tree stands now, left and right; absent = where the baseline puts it</param>
    public static SettingChanges Propose(
        SettingEvidence baseline,
        SettingEvidence today,
        Gauge? gauge,
        (double Left, double Right)? setAt = null
    )
    {
        var (changes, unsaid) = (new List<ProposedChange>(), new List<UnsaidChange>());
        if (gauge is null or { Measure: "slope" })
        {
            Tree(TreePart.Left, setAt?.Left);
            Tree(TreePart.Right, setAt?.Right);
        }
        else
            Tree(TreePart.Both, setAt?.Left);
        PanelBalance(baseline, today, changes, unsaid);
        Junctions(baseline, today, changes, unsaid);
        return new SettingChanges(changes, unsaid);

        void Tree(string of, double? position)
        {
            var key = TreePart.MeasureOf(of, gauge?.Measure);
            if (Change(baseline.Section, today.Section, key) is not { } change)
            {
                unsaid.Add(new(of, UnsaidReason.NotMeasured, Measure: key));
                return;
            }
            var (before, after) = Setting(gauge, change, position);
            if (gauge is not null && (before is null || after is null))
                unsaid.Add(new(of, UnsaidReason.OutsideGauge, Gauge: gauge));
            var marks = after?.Position - before?.Position;
            changes.Add(new ProposedChange(of, change.Value, change.Sd, change.Unit, marks, after));
        }
    }

    private sealed record Difference(double Before, double After, double Sd, string Unit)
    {
        internal double Value => After - Before;
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

    /// <summary>
    /// When the back rises towards the tail, the front of the panel must rise with it for the saddle to sit level, and the other way round.
    /// </summary>
    private static void PanelBalance(
        SettingEvidence baseline,
        SettingEvidence today,
        List<ProposedChange> changes,
        List<UnsaidChange> unsaid
    )
    {
        var change = Change(baseline.Topline, today.Topline, "topline-slope@behind-shoulder-last-rib");
        var length = today.Topline.FirstOrDefault(m => m.Key == "bearing-length")?.Value;
        if (change is null || length is null)
        {
            unsaid.Add(new("panel-balance", UnsaidReason.NoTopline));
            return;
        }
        var perDegree = length.Value * Math.PI / 180;
        changes.Add(new ProposedChange("panel-balance", perDegree * change.Value, perDegree * change.Sd, "mm", null, null));
    }

    /// <summary>The tree's points must not end on the junction of the muscles: where it lies today, and where it has moved.</summary>
    private static void Junctions(SettingEvidence baseline, SettingEvidence today, List<ProposedChange> changes, List<UnsaidChange> unsaid)
    {
        foreach (var side in (string[])["left", "right"])
        {
            var mark = $"muscle-junction-{side}";
            var lateral = today.Section.FirstOrDefault(m => m.Key == $"mark-lateral@{mark}");
            var depth = today.Section.FirstOrDefault(m => m.Key == $"mark-depth@{mark}");
            if (lateral?.Value is not { } out_ || depth?.Value is not { } down)
            {
                unsaid.Add(new(mark, UnsaidReason.NotMarked));
                continue;
            }
            var moved = Change(baseline.Section, today.Section, $"mark-depth@{mark}");
            var junction = new MuscleJunction(out_, down, moved is not null);
            changes.Add(new ProposedChange(mark, moved?.Value ?? 0, moved?.Sd ?? depth.Sd ?? 0, "mm", null, null, junction));
        }
    }
}
