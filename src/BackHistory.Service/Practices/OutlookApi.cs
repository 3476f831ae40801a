using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Reports.Charts;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Trends.Caseload;

namespace BackHistory.Service.Practices;

/// <summary>All horses of the practice together: the work to come, and how backs change here by age and season.</summary>
public static class OutlookApi
{
    private const int Ahead = 6;

    /// <summary>A hundred years.</summary>
    private const int MostMonths = 1200;

    /// <summary>Under so many changes a group is shown and not spoken of.</summary>
    private const int FewestToSay = 20;

    public static void MapOutlook(this IEndpointRouteBuilder api)
    {
        var practice = api.MapGroup("/practice").WithTags("Practice");
        practice
            .MapGet("/outlook", Outlook)
            .RequireAuthorization(Policies.See)
            .WithSummary("Refits a month: done, and expected in the next six months with an 80 % interval");
        practice.MapGet("/outlook.{form}", OutlookChart).RequireAuthorization(Policies.See).WithSummary("The same as a picture");
        practice
            .MapGet("/months", Months)
            .RequireAuthorization(Policies.See)
            .WithSummary("How many events of each kind were recorded in each month, newest first");
        practice
            .MapGet("/changes", Changes)
            .RequireAuthorization(Policies.See)
            .WithSummary("How much one measure changes in 90 days, by age and season");
        practice.MapGet("/changes.{form}", ChangesChart).RequireAuthorization(Policies.See).WithSummary("The same as a picture");
    }

    private static async Task<(OutlookAnswer Answer, History.Practices.Practice Practice)?> Load(
        HttpContext http,
        PracticeQueries practices,
        OutlookQueries outlook,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await practices.Load(tenant, ct) is not { } practice)
            return null;
        var today = PracticeClock.Today(practice, time);
        var horses = await outlook.ChancesByMonth(tenant, ct);
        var done = await outlook.Done(tenant, today, Ahead, ct);
        return (new OutlookAnswer(horses.Count, horses.Sum(p => p[0]), done, RefitForecast.ByMonth(horses, today, Ahead)), practice);
    }

    private static async Task<IResult> Outlook(
        HttpContext http,
        PracticeQueries practices,
        OutlookQueries outlook,
        TimeProvider time,
        CancellationToken ct
    ) =>
        await Load(http, practices, outlook, time, ct) is { } found
            ? Results.Ok(found.Answer)
            : Problems.From(PracticeRefusals.NoSuchPractice);

    private static async Task<IResult> OutlookChart(
        HttpContext http,
        PracticeQueries practices,
        OutlookQueries outlook,
        TimeProvider time,
        string form,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (await Load(http, practices, outlook, time, ct) is not var (answer, practice))
            return Problems.From(PracticeRefusals.NoSuchPractice);
        var expected = answer.Expected.Sum(m => m.Expected);
        var input = new RefitForecastInput
        {
            Finding = string.Create(
                CultureInfo.InvariantCulture,
                $"About {expected:0} saddles more are likely to want setting within six months; {answer.PastNow:0} are likely past a "
                    + $"limit now"
            ),
            Subject = string.Create(
                CultureInfo.InvariantCulture,
                $"{practice.Name}, {answer.Horses} horses watched; the dark bars are saddles set or altered"
            ),
            Months =
            [
                .. answer.Done.SkipLast(1).Select(m => new RefitMonth(m.Month, m.Refits, m.Refits, m.Refits, false)),
                .. answer.Expected.Select(m => new RefitMonth(m.Month, m.Expected, m.Low, m.High, true)),
            ],
        };
        return Pictures.Answer(RefitForecastChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form);
    }

    private static async Task<IResult> Months(HttpContext http, PracticeQueries practices, CancellationToken ct, int most = 24) =>
        Results.Ok(await practices.Months(SignedIn.From(http.User).Practice, Math.Clamp(most, 1, MostMonths), ct));

    /// <summary>Measures of a cross-section are asked for behind the shoulder unless told otherwise: that is where published work sees
    /// change first.</summary>
    private static async Task<ChangeDistributionAnswer?> LoadChanges(
        HttpContext http,
        PracticeQueries practices,
        OutlookQueries outlook,
        string measure,
        string? station,
        CancellationToken ct
    )
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await practices.Load(tenant, ct) is not { } practice)
            return null;
        station ??= MeasureRegistry.IsAtStation(measure) ? Protocols.UsualOf(practice.Stations) : null;
        var changes = await outlook.Changes(tenant, measure, station, practice.WatchBy(), PracticeClock.Zone(practice), ct);
        return new ChangeDistributionAnswer(
            measure,
            station,
            MeasureRegistry.UnitOf(measure),
            changes.Count,
            ChangeDistribution.ByAge(changes),
            ChangeDistribution.BySeason(changes)
        );
    }

    private static async Task<IResult> Changes(
        HttpContext http,
        PracticeQueries practices,
        OutlookQueries outlook,
        CancellationToken ct,
        string measure = MeasureViews.OfAPractice,
        string? station = null
    ) =>
        await LoadChanges(http, practices, outlook, measure, station, ct) is { } answer
            ? Results.Ok(answer)
            : Problems.From(PracticeRefusals.NoSuchPractice);

    private static async Task<IResult> ChangesChart(
        HttpContext http,
        PracticeQueries practices,
        OutlookQueries outlook,
        string form,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct,
        string measure = MeasureViews.OfAPractice,
        string? station = null
    )
    {
        if (await LoadChanges(http, practices, outlook, measure, station, ct) is not { } answer)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        if (answer.Changes == 0)
            return Problems.From(Pictures.NothingToDraw);
        var input = new ChangeDistributionInput
        {
            Finding = Finding(answer),
            Subject = string.Create(
                CultureInfo.InvariantCulture,
                $"{Formatter.Metric.Subject(measure, answer.Station)}; {answer.Changes} pairs of visits by one pair of hands"
            ),
            Unit = Formatter.Unit(answer.Unit),
            Groups = [new("by age in years", Bars(answer.ByAge)), new("by season", Bars(answer.BySeason))],
        };
        return Pictures.Answer(ChangeDistributionChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form);
    }

    /// <summary>The season says more than the age where it differs more.</summary>
    private static string Finding(ChangeDistributionAnswer answer)
    {
        var seasons = answer.BySeason.Where(g => g.Count >= FewestToSay).ToList();
        if (seasons.Count < 2)
            return $"{Formatter.Metric.Measure(answer.Key)}: too few changes were seen to say more";
        var (up, down) = (seasons.MaxBy(g => g.Median)!, seasons.MinBy(g => g.Median)!);
        return $"{Formatter.Metric.Measure(answer.Key)}: the middle change is "
            + $"{Formatter.Metric.Number(up.Median, answer.Unit)} in 90 days of {up.Group} and "
            + $"{Formatter.Metric.Number(down.Median, answer.Unit)} of {down.Group}";
    }

    private static IReadOnlyList<ChangeBar> Bars(IReadOnlyList<ChangeGroup> groups) =>
        [.. groups.Select(g => new ChangeBar(g.Group, g.Count, g.Low, g.Median, g.High))];
}
