using System.Globalization;
using BackHistory.Shape.Gauges;

namespace BackHistory.Language.Saddles;

/// <summary>What the tracings ask of a saddle, a sentence a part, for a qualified fitter.</summary>
public static class ProposalSentences
{
    private const string Signed = "+0.0;−0.0";

    public static string InWords(this ProposedChange change, ReportLanguage language = default) =>
        change switch
        {
            { Junction: { } junction } => Junction(change, junction, language),
            { Of: "panel-balance" } => Panel(change, language),
            _ => Tree(change, language),
        };

    public static string InWords(this UnsaidChange unsaid, ReportLanguage language = default) =>
        unsaid.Reason switch
        {
            UnsaidReason.NotMeasured => language["proposal.not-measured", Part(unsaid.Of, language), unsaid.Measure],
            UnsaidReason.OutsideGauge => language[
                "proposal.outside-gauge",
                Part(unsaid.Of, language),
                unsaid.Gauge!.Name,
                Text(unsaid.Gauge.Range.Least, "0.#", language),
                Text(unsaid.Gauge.Range.Most, "0.#", language),
                unsaid.Gauge.Unit
            ],
            UnsaidReason.NoTopline => language["proposal.no-topline"],
            _ => language[IsLeft(unsaid.Of) ? "proposal.not-marked.left" : "proposal.not-marked.right"],
        };

    private static string Tree(ProposedChange c, ReportLanguage language)
    {
        var (part, unit) = (Part(c.Of, language), c.Unit == "deg" ? "°" : " mm");
        var sd = Text(c.Sd, "0.0", language);
        if (!c.IsTold)
            return language["proposal.tree.no-change", part, Text(c.Change, Signed, language), sd, unit];
        return language[
            "proposal.tree.change",
            part,
            Text(Math.Abs(c.Change), "0.0", language),
            sd,
            unit,
            Way(c, language),
            Marks(c, language)
        ];
    }

    private static string Way(ProposedChange c, ReportLanguage language) =>
        language[
            (c.Unit, c.Change > 0) switch
            {
                ("deg", true) => "proposal.steeper",
                ("deg", false) => "proposal.flatter",
                (_, true) => "proposal.wider",
                _ => "proposal.narrower",
            }
        ];

    private static string Marks(ProposedChange c, ReportLanguage language)
    {
        if (c is not { Marks: { } marks, SetTo: { } setTo })
            return "";
        var rest = Text(setTo.RemainderMarks, Signed + ";0", language);
        return language[
            "proposal.marks",
            Text(Math.Abs(marks), "0.0", language),
            setTo.Nearest.Name,
            rest == "0" ? language["proposal.exactly"] : rest
        ];
    }

    private static string Panel(ProposedChange c, ReportLanguage language)
    {
        var sd = Text(c.Sd, "0", language);
        return c.IsTold
            ? language[c.Change > 0 ? "proposal.panel.front" : "proposal.panel.rear", Text(Math.Abs(c.Change), "0", language), sd]
            : language["proposal.panel.no-change", Text(c.Change, "+0;−0", language), sd];
    }

    private static string Junction(ProposedChange c, MuscleJunction junction, ReportLanguage language)
    {
        var since = junction.KnownBefore
            ? language[
                c.Change > 0 ? "proposal.junction.lower" : "proposal.junction.higher",
                Text(Math.Abs(c.Change), "0", language),
                Text(c.Sd, "0", language)
            ]
            : "";
        return language[
            IsLeft(c.Of) ? "proposal.junction.left" : "proposal.junction.right",
            Text(junction.Out, "0", language),
            Text(junction.Down, "0", language),
            since
        ];
    }

    private static string Part(string of, ReportLanguage language) =>
        language[
            of switch
            {
                "tree-left" => "proposal.part.tree-left",
                "tree-right" => "proposal.part.tree-right",
                _ => "proposal.part.tree",
            }
        ];

    private static bool IsLeft(string of) => of.EndsWith("-left", StringComparison.Ordinal);

    private static string Text(double value, string format, ReportLanguage language) =>
        value.ToString(format, CultureInfo.InvariantCulture).Replace(".", language["number.decimal"], StringComparison.Ordinal);
}
