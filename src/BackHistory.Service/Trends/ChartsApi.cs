using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Reports.Charts;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Trends;

/// <summary>Charts as pictures: SVG for pages, PNG for letters and programs.</summary>
public static class ChartsApi
{
    private static readonly Refused NoSuchChart = new("no-such-measure", "This measure was never taken there.", RefusalKind.NotFound);

    public static void MapCharts(this IEndpointRouteBuilder api)
    {
        var charts = api.MapGroup("/horses/{horseId:guid}/charts").WithTags("Charts");
        charts.MapGet("/trend.{form}", Trend).RequireAuthorization(Policies.See).WithSummary("One measure over time");
        charts
            .MapGet("/section.{form}", Section)
            .RequireAuthorization(Policies.See)
            .WithSummary("Cross-sections of one station over each other");
        charts.MapGet("/sparkline.svg", Sparkline).RequireAuthorization(Policies.See).WithSummary("The driving measure, small");
    }

    private static async Task<IResult> Trend(
        HttpContext http,
        HorseData data,
        Guid horseId,
        string form,
        string measure,
        string? station,
        DateOnly? from,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (await data.Load(SignedIn.From(http.User).Practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var input = HorseCharts.Trend(horse, horse.Assessment?.Worst, measure, station, from: from);
        return input is null
            ? Problems.From(NoSuchChart)
            : Pictures.Answer(TrendChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form);
    }

    private static async Task<IResult> Section(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        Guid horseId,
        string form,
        string station,
        DateOnly? on,
        string? theme,
        int? width,
        int? height,
        bool? mirror,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await data.Load(practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var sections = await SectionCurves.Load(horses, practice, horse, station, ct, on: on);
        var curves = sections.Select(s => s.Curve).ToList();
        if (curves.Count == 0)
            return Problems.From(NoSuchChart);
        var input = new SectionChartInput
        {
            Finding =
                curves.Count > 1
                    ? $"{horse.Profile.Name}, {Formatter.Metric.Station(station)}: {curves[0].Label} and {curves[^1].Label}"
                    : $"{horse.Profile.Name}, {Formatter.Metric.Station(station)}: {curves[0].Label}",
            Subject = $"{horse.Profile.Name}, {Formatter.Metric.Station(station)}",
            Curves = curves,
            MirrorLeftOnRight = mirror ?? false,
            Lengths = horse.Practice.Units.Lengths,
        };
        return Pictures.Answer(SectionChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form);
    }

    private static async Task<IResult> Sparkline(HttpContext http, HorseData data, Guid horseId, string? theme, CancellationToken ct)
    {
        if (await data.Load(SignedIn.From(http.User).Practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var input = horse.Assessment?.Worst is { } saddle ? HorseCharts.Sparkline(horse, saddle) : null;
        return input is null
            ? Problems.From(NoSuchChart)
            : Pictures.Answer(SparklineChart.Draw(input, Pictures.Theme(theme), SparklineChart.Size), "svg");
    }
}
