using BackHistory.History.Practices;
using BackHistory.Shape.Gauges;

namespace BackHistory.History.Saddles;

/// <summary>Why something about a saddle is refused, in a person's words.</summary>
public static class SaddleRefusals
{
    public static readonly Refused NoSuchSaddle = new("no-such-saddle", "There is no such saddle in this practice.", RefusalKind.NotFound);

    public static readonly Refused NoSuchWork = new(
        "no-such-work",
        "There is no such work on this saddle, or it was withdrawn already.",
        RefusalKind.NotFound
    );

    public static readonly Refused NoSuchTrial = new(
        "no-such-trial",
        "There is no such trial of this saddle, or it ended already.",
        RefusalKind.NotFound
    );

    public static readonly Refused NoSuchPad = new(
        "no-such-pad",
        "There is no such pad under this saddle, or it was removed already.",
        RefusalKind.NotFound
    );

    public static readonly Refused AlreadyRegistered = new(
        "already-registered",
        "This saddle is registered already.",
        RefusalKind.Conflict
    );

    public static readonly Refused SaddleGone = new(
        "saddle-withdrawn",
        "This saddle was registered by mistake and withdrawn. Nothing was saved.",
        RefusalKind.Conflict
    );

    public static readonly Refused HasWork = new(
        "has-work",
        "Work stands on this saddle. Withdraw that first, each piece with its reason.",
        RefusalKind.Conflict
    );

    public static readonly Refused WorkExists = new("work-exists", "This work was recorded already.", RefusalKind.Conflict);

    public static readonly Refused TrialExists = new("trial-exists", "This trial was recorded already.", RefusalKind.Conflict);

    public static readonly Refused OnTrialAlready = new(
        "on-trial",
        "The saddle is on trial with this horse already.",
        RefusalKind.Conflict
    );

    public static readonly Refused PadExists = new("pad-exists", "This pad was recorded already.", RefusalKind.Conflict);

    public static readonly Refused NotOnThisHorse = new(
        "not-on-this-horse",
        "The saddle is not in use on this horse.",
        RefusalKind.Conflict
    );

    public static readonly Refused OnAnotherHorse = new(
        "on-another-horse",
        "The saddle is in use on another horse. Say that both use it, or move it or take it off there first.",
        RefusalKind.Conflict,
        "onBoth"
    );

    public static readonly Refused OnTrialElsewhere = new(
        "on-trial-elsewhere",
        "The saddle is out on trial with another horse. Say that both try it, or end that trial first.",
        RefusalKind.Conflict,
        "onBoth"
    );

    public static readonly Refused NothingToSell = new(
        "already-sold",
        "The saddle is on no horse, on no trial, and this owner's already.",
        RefusalKind.Conflict
    );

    /// <summary>Whether anything can still be recorded of the saddle.</summary>
    public static Refused? OfSaddle(Saddle? saddle) =>
        saddle is null ? NoSuchSaddle
        : saddle.Withdrawn ? SaddleGone
        : null;

    public static Refused? OfDetails(SaddleDetails d) =>
        ReadableName.IsMissing(d.Label) || d.Label.Trim().Length > 80
            ? new("no-label", "A saddle needs a label of up to 80 letters, for example its workshop number.", Place: "label")
        : new[] { d.Tree, d.Panel, d.Girthing, d.Gauge }.Any(t => t?.Length > 200) ? new("too-long", "Keep each detail under 200 letters.")
        : null;

    /// <summary>Whoever sets something else than was proposed says why.</summary>
    public static Refused? OfProposal(Adjustment a) =>
        a.Proposed is not null && a.Proposed != a.To && string.IsNullOrWhiteSpace(a.Because)
            ? new(
                "no-reason",
                $"Proposed was {a.Proposed}, set was {a.To ?? "nothing"}: say why, so that the next fitter understands it.",
                Place: "because"
            )
            : null;

    public static Refused? OfAdjustments(IReadOnlyList<Adjustment> done)
    {
        if (done.Count > 60)
            return new("too-many-adjustments", "At most 60 adjustments are recorded at once.");
        for (var i = 0; i < done.Count; i++)
        {
            var a = done[i];
            if (!IsPart(a.Part) || a.From?.Length > 120 || a.To?.Length > (a.Part == Adjustment.Note ? 400 : 120))
                return new(
                    "bad-adjustment",
                    "Each adjustment names its part in up to 60 letters, and before and after in up to 120.",
                    Place: $"done[{i}]"
                );
            if (!IsSide(a.Side))
                return new("bad-adjustment", "A side is left, right, or left out for both.", Place: $"done[{i}].side");
            if (a.Proposed?.Length > 120 || a.Because?.Length > 400)
                return new("too-long", "A proposal has up to 120 letters, a reason up to 400.", Place: $"done[{i}]");
            if (OfProposal(a) is { } silent)
                return silent with { Place = $"done[{i}].because" };
        }

        return null;
    }

    /// <summary>Marks of the gauges in which they are read. A gauge that the practice does not have says nothing about them.</summary>
    public static Refused? OfMarks(IReadOnlyList<Adjustment> done, IReadOnlyDictionary<string, GaugeTable> gauges)
    {
        for (var i = 0; i < done.Count; i++)
        {
            if (done[i] is { Gauge: { } key, To: { } to } && gauges.TryGetValue(key, out var gauge) && OfMark(gauge, to) is { } bad)
                return bad with { Place = $"done[{i}].to" };
        }

        return null;
    }

    /// <summary>Whether what was typed is a place on the gauge.</summary>
    public static Refused? OfMark(GaugeTable gauge, string to) =>
        GaugeText.Position(gauge.Gauge(), to) is not null
            ? null
            : new(
                "no-such-mark",
                $"“{to.Trim()}” is no mark of {gauge.Name}. It has {Marks(gauge)}. Between two marks write the nearer one and what is "
                    + $"left over, as {gauge.Marks[0].Name} +0.3."
            );

    private static string Marks(GaugeTable gauge)
    {
        const int Most = 24;
        var names = gauge.Gauge().Marks.Select(m => m.Name).ToList();
        return names.Count <= Most
            ? $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}"
            : $"{names.Count} marks, from {names[0]} to {names[^1]}";
    }

    public static Refused? OfParts(IReadOnlyList<SaddlePart> parts)
    {
        if (parts.Count > 60)
            return new("too-many-parts", "At most 60 parts are listed.");
        for (var i = 0; i < parts.Count; i++)
        {
            var p = parts[i];
            if (!IsPart(p.Part) || string.IsNullOrWhiteSpace(p.What) || p.What.Length > 200 || p.Gauge?.Length > 60)
                return new("bad-part", "Each part has a name of up to 60 letters and says what it is in up to 200.", Place: $"parts[{i}]");
            if (!IsSide(p.Side))
                return new("bad-part", "A side is left, right, or left out for both.", Place: $"parts[{i}].side");
        }

        return parts.DistinctBy(p => (p.Part, p.Side)).Count() == parts.Count
            ? null
            : new("part-twice", "A part stands in the list once a side.", Place: "parts");
    }

    public static Refused? OfPad(string pad, IReadOnlyList<Shim> shims)
    {
        if (string.IsNullOrWhiteSpace(pad) || pad.Length > 120)
            return new("no-pad", "Say which pad it is, in up to 120 letters.", Place: "pad");
        if (shims.Count > 20)
            return new("too-many-shims", "At most 20 shims are recorded in one pad.", Place: "shims");
        for (var i = 0; i < shims.Count; i++)
        {
            var s = shims[i];
            if (!IsPart(s.Place) || !IsSide(s.Side) || !(s.ThicknessMm > 0 && Plausible.Shim.Holds(s.ThicknessMm)))
            {
                var why =
                    $"A shim has a place, a side where it lies on one, and a thickness up to {Plausible.Shim.Most} mm. "
                    + "Is it in millimetres?";
                return new("bad-shim", why, Place: $"shims[{i}]");
            }
        }

        return null;
    }

    private static bool IsPart(string? part) => !string.IsNullOrWhiteSpace(part) && part.Length <= 60;

    private static bool IsSide(string? side) => side is null or "left" or "right";
}
