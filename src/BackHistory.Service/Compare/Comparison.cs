using System.Globalization;
using BackHistory.Application.Practices;
using BackHistory.Application.Trends;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets;
using BackHistory.Reports.Sheets.Content;
using BackHistory.Shape.Surfaces;
using BackHistory.Store.Horses;
using BackHistory.Trends.Repeats;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Compare;

/// <summary>Loads the dates that are compared.</summary>
public sealed class Comparison(HorseData data, HorseQueries horses)
{
    private const int MostDates = 6;

    /// <param name="visits">Ids with commas between them; in any order.</param>
    /// <returns>Null when there is no such horse, or none of the visits is its own.</returns>
    internal async Task<LoadedComparison?> Load(string practice, Guid horseId, string visits, CancellationToken ct)
    {
        if (await data.Load(practice, horseId, ct) is not { } horse)
            return null;
        var wanted = visits
            .Split(',', MostDates + 1)
            .Take(MostDates)
            .Select(v => Guid.TryParse(v, out var id) ? id : Guid.Empty)
            .ToHashSet();
        var chosen = horse.Visits.Where(v => !v.Withdrawn && wanted.Contains(v.Id)).OrderBy(v => v.TakenAt).ToList();
        if (chosen.Count == 0)
            return null;
        var backs = new List<BackOfVisit>();
        foreach (var visit in chosen)
            backs.Add(await BackOfVisit.Load(horses, practice, horseId, visit, horse.Practice.Stations, ct));
        return new LoadedComparison(horse, backs);
    }

    /// <summary>Less than this no tracing shows, mm (engineering choice, no source).</summary>
    private const double LeastToldMm = 0.5;

    internal const string HeightsLeftOut = "Heights are not compared: the topline was traced at one of the two dates only.";

    /// <summary>A sentence on the largest gain and one on the largest loss, where there is one, and what was not compared.</summary>
    internal static IReadOnlyList<string> Words(ComparedBacks backs, Formatter say)
    {
        var change = new[] { Word("Most gained", backs.Map?.Gain, say), Word("Most lost", backs.Map?.Loss, say) }.OfType<string>().ToList();
        if (change.Count == 0)
            change.Add("Nothing was gained or lost that a tracing would show.");
        if (backs.HeightsLeftOut)
            change.Add(HeightsLeftOut);
        return change;
    }

    private static string? Word(string what, ChangePlace? place, Formatter say)
    {
        string Length(double mm) => say.Number(mm, "mm");
        return place is null || Math.Abs(place.Change) < LeastToldMm
            ? null
            : $"{what}: {Length(Math.Abs(place.Change))}, {Named(place.InWords(Length), say)}.";
    }

    /// <summary>Stations by their names instead of their keys.</summary>
    private static string Named(string place, Formatter say)
    {
        var named = string.Concat(place.Split('`').Select((part, i) => i % 2 == 0 ? part : say.Station(part)));
        return named.Replace(" at behind ", " behind ", StringComparison.Ordinal);
    }

    /// <summary>Half the span of a change map's colours: the larger extreme, to the next five millimetres.</summary>
    internal static double SpanOf(ChangeMap map) =>
        Math.Max(5, 5 * Math.Ceiling(Math.Max(map.Gain?.Change ?? 0, -(map.Loss?.Change ?? 0)) / 5));
}

/// <param name="Backs">The earliest first.</param>
internal sealed record LoadedComparison(HorseRecord Horse, IReadOnlyList<BackOfVisit> Backs)
{
    public IEnumerable<string> Stations =>
        Horse.Practice.Stations.Select(s => s.Key).Where(k => Backs.Any(b => b.Sections.Any(s => s.Station == k)));

    /// <summary>Between the first and the last date; null with a single one, or where one of the two is no surface.</summary>
    public ComparedBacks? Change(double stepMm) => Backs.Count > 1 ? ComparedBacks.Between(Backs[0], Backs[^1], stepMm) : null;

    /// <returns>Null with a single date, or where the two surfaces nowhere lie side by side.</returns>
    public ChangeMapChartInput? ChangeSeenFromAbove(double stepMm)
    {
        if (Change(stepMm) is not { Map: { } map } change)
            return null;
        return new ChangeMapChartInput
        {
            Finding = string.Join(' ', Comparison.Words(change, Horse.Format())),
            Subject = $"{Horse.Profile.Name}, {Formatter.Metric.Day(DateOf(Backs[0]))} to {Formatter.Metric.Day(DateOf(Backs[^1]))}",
            Spots = [.. map.Mesh().Vertices.Zip(map.Changes, (v, c) => new ChangeSpot(v.Z, v.X, double.IsNaN(c) ? null : c))],
            StepMm = stepMm,
            SpanMm = Comparison.SpanOf(map),
            Lengths = Horse.Practice.Units.Lengths,
            Stations = [.. change.Now.Sections.Select(s => (Formatter.Metric.Station(s.Station), s.FromDatum))],
        };
    }

    private DateOnly DateOf(BackOfVisit back) => Horse.Day(back.Visit.TakenAt);

    public SectionChartInput? Section(string station, bool mirror)
    {
        var curves = Backs
            .Select(b => (b.Visit, Section: b.Sections.FirstOrDefault(s => s.Station == station)))
            .Where(x => x.Section is not null)
            .Select(x => HorseCharts.Section(Label(x.Visit), x.Section!.Contour))
            .ToList();
        return curves.Count == 0
            ? null
            : new SectionChartInput
            {
                Finding = $"{Capital(Formatter.Metric.Station(station))}: {string.Join(", ", curves.Select(c => c.Label))}",
                Subject = Horse.Profile.Name,
                Curves = mirror ? [curves[^1]] : curves,
                MirrorLeftOnRight = mirror,
                Lengths = Horse.Practice.Units.Lengths,
            };
    }

    public ToplineChartInput? Topline()
    {
        var curves = Backs
            .Where(b => b.Topline is not null)
            .Select(b => new ToplineCurve(
                Label(b.Visit),
                [.. b.Topline!.Sample(4).Select(p => new PlanePoint(p.X, p.Y))],
                [.. b.Topline.Marks.Select(m => new StationMark(Formatter.Metric.Station(m.Key), new PlanePoint(m.Value.X, m.Value.Y)))]
            ))
            .ToList();
        return curves.Count == 0
            ? null
            : new ToplineChartInput
            {
                Finding = $"Topline: {string.Join(", ", curves.Select(c => c.Label))}",
                Subject = Horse.Profile.Name,
                Curves = curves,
                Lengths = Horse.Practice.Units.Lengths,
            };
    }

    /// <summary>Then, now and the change between the first and the last date, with the noise of both visits.</summary>
    public IReadOnlyList<ComparedMeasure> Changes()
    {
        if (Backs.Count < 2)
            return [];
        var (then, now) = (Backs[0].Visit, Backs[^1].Visit);
        var judged = Judged(then, now);
        List<ComparedMeasure> changes =
        [
            .. now.Standing()
                .Where(m => m.Value is not null)
                .GroupBy(m => (m.Key, m.Station))
                .Select(g => g.Last())
                .Select(m =>
                    (Now: m, Then: then.Standing().LastOrDefault(t => t.Key == m.Key && t.Station == m.Station && t.Value is not null))
                )
                .Where(x => x.Then is not null)
                .Select(x =>
                    ComparedMeasure.Compare(x.Then!, x.Now, then.By == now.By, Horse.Practice.WatchBy()) with
                    {
                        Together = judged.FirstOrDefault(m => m.Measure == x.Now.Key && m.Station == x.Now.Station)?.Together,
                    }
                ),
        ];
        return changes.Count == 0
            ? []
            : changes.ConvertAll(c => c with { Detectable = Math.Abs(c.Change) > SeveralAtOnce.Bound(changes.Count) * c.Sd });
    }

    /// <summary>What the decision found of each measure, where it decided on these two visits.</summary>
    private IReadOnlyList<MeasureDecision> Judged(VisitRecord then, VisitRecord now) =>
        Horse.Assessment?.Worst is { } worst
        && worst.BaselineVisit == then.Id
        && !Horse.Visits.Any(v => !v.Withdrawn && v.TakenAt > now.TakenAt)
            ? worst.Decision.Measures
            : [];

    public ComparisonReportInput Report(PracticeContact? contact)
    {
        var say = Horse.Format();
        return new()
        {
            Head = PaperHead.Of(Horse.Practice, contact, Horse.Profile.Name, Horse.Today),
            Finding =
                Backs.Count < 2
                    ? $"{Horse.Profile.Name} on {Label(Backs[0].Visit)}"
                    : $"{Horse.Profile.Name} from {Label(Backs[0].Visit)} to {Label(Backs[^1].Visit)}",
            Sections = [.. Stations.Select(s => Section(s, false)).OfType<SectionChartInput>()],
            Topline = Topline(),
            Changes = Rows(say),
        };
    }

    /// <summary>What the practice watches, then and now, as a paper says it.</summary>
    public IReadOnlyList<ChangeRow> Rows(Formatter say) =>
        [
            .. Changes()
                .Where(c => c.Threshold is not null)
                .Select(c => new ChangeRow(
                    say.Measure(c.Key),
                    say.Station(c.Station),
                    say.Number(c.Then, c.Unit),
                    say.Number(c.Now, c.Unit),
                    say.Change(c.Now - c.Then, c.Sd, c.Unit),
                    say.Number(c.Threshold!.Value, c.Unit)
                )),
        ];

    private static string Label(VisitRecord visit) => visit.TakenAt.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}

/// <summary>One measure at two dates.</summary>
/// <param name="Sd">Of the difference: both visits' layers of noise, the hand's twice where two people measured.</param>
/// <param name="Threshold">The practice's own, where the measure is watched.</param>
internal sealed record ComparedMeasure(string Key, string? Station, string Unit, double Then, double Now, double Sd, double? Threshold)
{
    public double Change => Now - Then;

    /// <summary>Whether the change is more than would stand anywhere in the table by chance.</summary>
    public bool Detectable { get; init; }

    /// <summary>The change when all measures of the same visits are judged together; null where the decision is not about these
    /// visits.</summary>
    public Uncertain? Together { get; init; }

    public static ComparedMeasure Compare(MeasureRow then, MeasureRow now, bool sameHand, BackHistory.Trends.Rules.WatchRules rules)
    {
        var level = (Math.Abs(then.Value!.Value) + Math.Abs(now.Value!.Value)) / 2;
        var noise = rules.NoiseAt(now.Key, now.Station, null, null, level);
        var (trace, layers) = noise is null ? (0, new BackHistory.Trends.Series.NoiseLayers(0, 0)) : (noise.TraceSd, noise.Layers);
        var one = trace * trace + layers.VisitSd * layers.VisitSd + (sameHand ? 0 : layers.PersonSd * layers.PersonSd);
        return new ComparedMeasure(
            now.Key,
            now.Station,
            now.Unit,
            then.Value.Value,
            now.Value.Value,
            Math.Sqrt(2 * one),
            rules.ThresholdOf(now.Key)?.At(then.Value.Value)
        );
    }
}
