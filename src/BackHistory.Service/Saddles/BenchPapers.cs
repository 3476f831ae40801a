using System.Globalization;
using BackHistory.Application.Practices;
using BackHistory.History.Practices;
using BackHistory.Language.Decisions;
using BackHistory.Language.Saddles;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets;
using BackHistory.Service.Reminders;
using BackHistory.Shape.Gauges;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Saddles;

/// <summary>What the bench gets on paper: the proposed setting, and the back's section at full size.</summary>
internal static class BenchPapers
{
    private static readonly string[] Sides = ["left", "right"];

    private static ReportLanguage English => ReportLanguage.English;

    public static SettingSheetInput Sheet(SaddleProposal p, PracticeContact? contact)
    {
        var changes = p.Asked?.Changes ?? [];
        return new SettingSheetInput
        {
            Head = PaperHead.Of(p.Horse.Practice, contact, p.Horse.Profile.Name, p.Horse.Today),
            Saddle = string.Join(", ", new[] { p.Saddle.Label, p.Saddle.Tree, p.Saddle.Panel }.Where(t => !string.IsNullOrEmpty(t))),
            First = p.Caution is { } caution
                ?
                [
                    $"{VetFirstWords.Heading} {caution.Evidence.Sentence}",
                    VetFirstWords.Since(PracticeClock.Local(p.Horse.Practice, caution.RaisedAt)),
                ]
                : [],
            Proposal = Sentence(p),
            Gauge = p.Gauge?.Name ?? English["bench.no-gauge"],
            Rows = [.. changes.Where(c => c.Of.StartsWith("tree", StringComparison.Ordinal)).Select(c => Row(c, p))],
            Notes = [.. Elsewhere(p) is { } elsewhere ? [elsewhere] : Array.Empty<string>(), .. changes.Select(c => c.InWords())],
            CannotBeSaid = p.Asked is { } asked ? [.. asked.Unsaid.Select(u => u.InWords())] : [English["bench.no-tracing"]],
            Chart = Chart(p, null),
        };
    }

    /// <summary>The gauge's table drawn, with the proposed setting where there is one.</summary>
    public static GaugeChartInput? Chart(SaddleProposal p, string? finding) =>
        p.Gauge is not { } table ? null : Chart(table, finding ?? Sentence(p), Settings(p));

    public static GaugeChartInput Chart(History.Practices.GaugeTable table, string finding, IReadOnlyList<GaugeSetting> settings)
    {
        var gauge = table.Gauge();
        // The chart counts marks; the gauge's own scale may not step by one.
        var places = gauge.Marks.Select(m => m.Position).ToArray();
        double Counted(double position)
        {
            var i = Math.Clamp(Array.FindLastIndex(places, x => x <= position), 0, places.Length - 2);
            return i + (position - places[i]) / (places[i + 1] - places[i]);
        }

        var steps = Enumerable.Range(0, 121).Select(i => places[0] + (places[^1] - places[0]) * i / 120.0);
        return new GaugeChartInput
        {
            Finding = finding,
            Subject = table.Name,
            Unit = Formatter.Unit(table.Unit),
            Marks = [.. gauge.Marks.Select(m => new Reports.Charts.GaugeScaleMark(m.Name, m.Value))],
            Curve =
            [
                .. steps.Select(x => gauge.AtPosition(x)).OfType<GaugeReading>().Select(r => new PlanePoint(Counted(r.Position), r.Value)),
            ],
            Proposal = [.. settings.Select(s => s with { Position = Counted(s.Position) })],
        };
    }

    /// <summary>That the back has changed where no gauge reads; null where it has not, or the tree is to be changed too, or nobody is to be
    /// sent to panels and pads before the vet has looked. What to look at first: common practice, no source.</summary>
    public static string? Elsewhere(SaddleProposal p)
    {
        if (
            p.Asked is not { } asked
            || p.Caution is not null
            || asked.Changes.Any(c => c.Of.StartsWith("tree", StringComparison.Ordinal) && c.IsTold)
            || p.Horse.Assessment?.Saddles.FirstOrDefault(s => s.SaddleId == p.Saddle.Id)?.Decision
                is not { State: WatchState.Refit, Caution: null, P: { } chance } decision
        )
            return null;
        var driver = decision.InWords(p.Horse.Practice.WatchBy(), p.Horse.Format().Lengths).FirstOrDefault(s => s.Kind == "driver");
        return English["bench.changed-elsewhere", English.Chance(chance), driver?.Text ?? ""];
    }

    public static string Sentence(SaddleProposal p)
    {
        if (p.Asked is null)
            return English["bench.nothing"];
        var told = Sides
            .Where(s => p.MarkFor(s) is not null)
            .Select(s => English[s == "left" ? "bench.side.left" : "bench.side.right", p.MarkFor(s)])
            .ToList();
        return told.Count > 0 ? English["bench.proposed", string.Join(", ", told)]
            : p.Asked.Changes.Any(c => c.Of.StartsWith("tree", StringComparison.Ordinal) && c.IsTold) ? English["bench.beyond-gauge"]
            : English["bench.no-change"];
    }

    private static IReadOnlyList<GaugeSetting> Settings(SaddleProposal p) =>
        [
            .. Sides
                .Select(s =>
                    (
                        Side: s == "left" ? Reports.Charts.Content.SeriesSide.Left : Reports.Charts.Content.SeriesSide.Right,
                        Mark: p.MarkFor(s),
                        p.Tree(s)?.SetTo
                    )
                )
                .Where(s => s.Mark is not null && s.SetTo is not null)
                .Select(s => new GaugeSetting(s.Side, s.SetTo!.Value, s.SetTo.Position, s.Mark!)),
        ];

    private static SettingRow Row(ProposedChange c, SaddleProposal p)
    {
        var (what, stands) = c.Of switch
        {
            TreePart.Left => (English["bench.tree-left"], p.Stands.Left),
            TreePart.Right => (English["bench.tree-right"], p.Stands.Right),
            _ => (English["bench.tree"], p.Stands.Left),
        };
        var key = TreePart.MeasureOf(c.Of, p.Gauge?.Measure);
        string Measured(History.Horses.VisitRecord? visit) =>
            visit?.Standing().LastOrDefault(m => m.Key == key && m.Station == SaddleProposals.StationOf(p.Horse))?.Value is { } v
                ? Formatter.Metric.Number(v, c.Unit)
                : "";
        return new SettingRow(
            what,
            stands is null ? Measured(p.Baseline) : English["bench.mark-and-back", stands, Measured(p.Baseline)],
            Measured(p.Now),
            Formatter.Metric.Change(c.Change, c.Sd, c.Unit),
            c.IsTold && c.SetTo is { } set ? GaugeText.Write(set) : English["bench.as-it-is"],
            c.IsTold ? c.SetTo?.Nearest.Name ?? "" : "",
            c.IsTold && c.SetTo is { } rest
                ? rest.Remainder.ToString("+0.0;−0.0;0", CultureInfo.InvariantCulture) + Formatter.Unit(p.Gauge?.Unit ?? c.Unit)
                : ""
        );
    }
}
