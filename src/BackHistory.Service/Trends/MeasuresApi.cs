using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Decisions;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Trends.Robust;
using BackHistory.Trends.Series;

namespace BackHistory.Service.Trends;

/// <summary>Measures and trends over HTTP.</summary>
public static class MeasuresApi
{
    public static void MapMeasures(this IEndpointRouteBuilder api)
    {
        var horse = api.MapGroup("/horses/{horseId:guid}").WithTags("Measures and trends");
        horse
            .MapGet("/measures", Measures)
            .RequireAuthorization(Policies.See)
            .WithSummary("Every standing number of a horse, oldest first");
        horse.MapGet("/trends", Trends).RequireAuthorization(Policies.See).WithSummary("Trends today, one a measure and station");
        horse
            .MapGet("/since-fit", SinceLastFit)
            .RequireAuthorization(Policies.See)
            .WithSummary("What is said of the horse since its saddles were last set");
    }

    private static async Task<IResult> Measures(
        HttpContext http,
        HorseQueries horses,
        Guid horseId,
        string? key,
        string? station,
        CancellationToken ct
    )
    {
        var visits = await horses.Visits(SignedIn.From(http.User).Practice, horseId, ct);
        if (visits is null)
            return Problems.From(HorseRefusals.NoSuchHorse);
        return Results.Ok(
            visits
                .SelectMany(v => v.Standing(), (v, m) => (Visit: v, Row: m))
                .Where(x => x.Row.Value is not null && (key is null || x.Row.Key == key) && (station is null || x.Row.Station == station))
                .Select(x => new MeasureAnswer(
                    x.Visit.Id,
                    x.Visit.TakenAt,
                    x.Visit.By,
                    x.Row.Key,
                    x.Row.Station,
                    x.Row.Value!.Value,
                    x.Row.Unit,
                    x.Row.Sd
                ))
                .ToList()
        );
    }

    private static async Task<IResult> Trends(
        HttpContext http,
        HorseData data,
        Guid horseId,
        string? key,
        string? station,
        CancellationToken ct
    )
    {
        if (await data.Load(SignedIn.From(http.User).Practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var wanted = horse
            .Visits.SelectMany(v => v.Standing())
            .Where(m => m.Value is not null)
            .Select(m => (m.Key, m.Station))
            .Distinct()
            .Where(m => (key is null || m.Key == key) && (station is null || m.Station == station))
            .OrderBy(m => m.Key, StringComparer.Ordinal)
            .ThenBy(m => m.Station, StringComparer.Ordinal);
        return Results.Ok(wanted.Select(m => Trend(horse, m.Key, m.Station)).ToList());
    }

    private static MeasureTrendAnswer Trend(HorseRecord horse, string key, string? station)
    {
        var series = Series.SeriesFrom(horse.Visits, key, station, horse.Practice.WatchBy(), horse.Zone)!;
        var today = TrendDays.EndOf(horse.Today);
        var fit = TrendFit.Fit(series.Observations, series.Noise, null, series.Prior);
        var saddle = horse.Assessment?.Worst;
        var baseline = saddle is null ? (double?)null : TrendDays.EndOf(saddle.Decision.BaselineOn);
        return new MeasureTrendAnswer(
            key,
            station,
            series.Unit,
            fit.DayCount,
            fit.Q,
            fit.Level(today),
            fit.Slope(today),
            RobustTrend.TheilSen(series.Observations),
            RobustTrend.MannKendall(series.Observations),
            TwoVisits.Compare(series.Observations, series.Noise, today, baseline),
            saddle?.Decision.Measures.FirstOrDefault(m => m.Measure == key && m.Station == station)
        );
    }

    private static async Task<IResult> SinceLastFit(HttpContext http, HorseData data, Guid horseId, CancellationToken ct)
    {
        if (await data.Load(SignedIn.From(http.User).Practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        return horse.Assessment is { } assessment
            ? Results.Ok(new AssessmentAnswer(assessment.InWords(horse.Practice.WatchBy())))
            : Problems.From(NotYet);
    }

    private static readonly Refused NotYet = new(
        "not-yet",
        "This horse has not been looked at yet; it will be within a minute.",
        RefusalKind.NotFound
    );
}
