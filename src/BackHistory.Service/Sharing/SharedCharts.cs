using BackHistory.Application.Trends;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Reports.Charts;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Sharing;

/// <summary>The pictures that somebody outside the practice may see.</summary>
public sealed class SharedCharts(HorseData data, HorseQueries horses)
{
    private const string Back = "back";
    private const int MuscleSites = 6;

    /// <summary>Condition, halves, topline and weight on one axis.</summary>
    public const string Overview = "overview";

    /// <summary>The measures of the vet's view: condition first, then muscle, areas and the topline; sides together, each at one
    /// station.</summary>
    public static IReadOnlyList<(string Key, string? Station)> ChartsFor(HorseRecord horse, string station)
    {
        var taken = horse
            .Visits.SelectMany(v => v.Standing())
            .Where(m => m.Value is not null)
            .Select(m => (m.Key, m.Station))
            .Distinct()
            .ToList();
        return
        [
            .. MeasureViews.Treating.SelectMany(name =>
                taken
                    .Where(t => t.Key.Split('@')[0] == name)
                    .OrderByDescending(t => t.Station == station)
                    .ThenBy(t => t.Key, StringComparer.Ordinal)
                    .ThenBy(t => t.Station, StringComparer.Ordinal)
                    .Take(name == "muscle" ? MuscleSites : 1)
            ),
        ];
    }

    /// <param name="measure"><c>back</c> for the picture of the back, <c>overview</c> for the condition on one axis, else a measure; what
    /// this sight does not show is not there.</param>
    public async Task<IResult> Draw(
        ShareContext sight,
        string measure,
        string? station,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (await data.Load(sight.Practice, sight.HorseId, ct) is not { } horse)
            return Problems.From(Pictures.NothingToDraw);
        var (colours, size) = (Pictures.Theme(theme), Pictures.Size(width, height));
        if (measure == Back)
        {
            var sections = await SectionCurves.Load(horses, sight.Practice, horse, station ?? StationOf(horse), ct, sight.Language);
            return sections.Count == 0
                ? Problems.From(Pictures.NothingToDraw)
                : Pictures.Answer(
                    BackPicture.Draw(
                        new BackPictureInput(sections[^1].Curve, sections.Count > 1 ? sections[0].Curve : null)
                        {
                            Language = sight.Language,
                        },
                        colours,
                        size
                    ),
                    "svg"
                );
        }

        if (measure == Overview && sight.Scope >= SharedScope.Trends)
        {
            var at = station ?? StationOf(horse);
            var all = HorseCondition.Chart(await HalfVolumes.AddTo(horse, horses, sight.Practice, ct), at, sight.Language);
            return all is null
                ? Problems.From(Pictures.NothingToDraw)
                : Pictures.Answer(ConditionChart.Draw(all, colours, ConditionChart.SizeFor(all.Panels.Count, size.Width)), "svg");
        }

        var driver = Driver(horse);
        if (sight.Scope < SharedScope.Trends && (driver is null || driver.Value.Key != measure || driver.Value.Station != station))
            return Problems.From(Pictures.NothingToDraw);
        var input = HorseCharts.Trend(horse, horse.Assessment?.Worst, measure, station, sight.Language);
        return input is null ? Problems.From(Pictures.NothingToDraw) : Pictures.Answer(TrendChart.Draw(input, colours, size), "svg");
    }

    /// <summary>The stations at which anything was measured, in the order of the protocol.</summary>
    public static IReadOnlyList<string> StationsOf(HorseRecord horse)
    {
        var taken = horse.Visits.SelectMany(v => v.Standing()).Where(m => m.Value is not null).Select(m => m.Station).OfType<string>();
        var order = horse.Practice.Stations.Select((s, i) => (s.Key, i)).ToDictionary(s => s.Key, s => s.i, StringComparer.Ordinal);
        return
        [
            .. taken.Where(s => s != "topline").Distinct(StringComparer.Ordinal).OrderBy(s => order.GetValueOrDefault(s, int.MaxValue)),
        ];
    }

    /// <summary>The one chart of the owner's page: the measure that drives the finding, or the side's slope where nothing does
    /// yet.</summary>
    public static (string Key, string? Station)? Driver(HorseRecord horse)
    {
        if (horse.Assessment?.Worst?.Decision.Driver is { } driver)
            return (driver.Measure, driver.Station);
        var taken = horse.Visits.SelectMany(v => v.Standing()).Where(m => m.Value is not null).ToList();
        return taken
            .Where(m => MeasureViews.Owner.Contains(m.Key, StringComparer.Ordinal))
            .OrderByDescending(m => m.Key == MeasureViews.Usual)
            .ThenByDescending(m => m.Station == Protocols.UsualOf(horse.Practice.Stations))
            .Select(m => ((string, string?)?)(m.Key, m.Station))
            .FirstOrDefault();
    }

    public static string StationOf(HorseRecord horse) =>
        horse.Assessment?.Worst?.Decision.Driver?.Station is { } station && station != "topline"
            ? station
            : Protocols.UsualOf(horse.Practice.Stations);

    /// <summary>Whether there is a section to draw there.</summary>
    public static bool HasBack(HorseRecord horse) =>
        horse.Visits.SelectMany(v => v.Entries).Any(e => e.Stands && e.Kind == "cross-section" && e.Station == StationOf(horse));
}
