using BackHistory.Application.Practices;
using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Language.Saddles;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Sheets;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape.Analysis;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Saddles;

/// <summary>From the latest tracing to the bench.</summary>
public static class BenchApi
{
    private const string Caution =
        "A proposal for a qualified fitter. Sudden or one-sided loss, pain, heat, swelling, sores, lameness, or a saddle that slips to "
        + "one side goes to a veterinary surgeon before any refit.";

    private static readonly Refused NothingTraced = new(
        "nothing-to-draw",
        "This horse was not traced there yet: the first cross-section at that station makes the template.",
        RefusalKind.NotFound
    );

    public static void MapBench(this IEndpointRouteBuilder api)
    {
        var fit = api.MapGroup("/saddles/{saddleId:guid}/horses/{horseId:guid}").WithTags("Saddles");
        fit.MapGet("/proposal", Propose)
            .RequireAuthorization(Policies.See)
            .WithSummary("What the latest tracing asks of the saddle, in its gauge's marks");
        fit.MapGet("/setting.pdf", Sheet).RequireAuthorization(Policies.See).WithSummary("The setting sheet for the bench");
        fit.MapGet("/gauge.{form}", GaugePicture).RequireAuthorization(Policies.See).WithSummary("The gauge with the proposed setting");
        api.MapGet("/horses/{horseId:guid}/template.pdf", Template)
            .RequireAuthorization(Policies.See)
            .WithTags("Saddles")
            .WithSummary("The latest cross-section of a station at full size, on A4 pages");
        api.MapGet("/practice/gauges/{key}/curve.{form}", TablePicture)
            .RequireAuthorization(Policies.See)
            .WithTags("Practice")
            .WithSummary("A gauge's table drawn");
    }

    /// <param name="visit">The visit to set the saddle to; the latest when left out.</param>
    /// <param name="since">The visit that stands for the shape it is set to; the saddle's baseline when left out.</param>
    private static async Task<IResult> Propose(
        HttpContext http,
        SaddleProposals proposals,
        Guid saddleId,
        Guid horseId,
        Guid? visit,
        Guid? since,
        string? station,
        CancellationToken ct
    )
    {
        var (p, no) = await proposals.Load(SignedIn.From(http.User).Practice, saddleId, horseId, visit, since, station, ct);
        return no is not null
            ? Problems.From(no)
            : Results.Ok(
                new ProposalAnswer(
                    saddleId,
                    horseId,
                    p!.Gauge?.Key,
                    p.Baseline?.Id,
                    p.Now?.Id,
                    station ?? SaddleProposals.StationOf(p.Horse),
                    BenchPapers.Sentence(p),
                    p.Stands.Left,
                    p.Stands.Right,
                    p.MarkFor("left"),
                    p.MarkFor("right"),
                    [.. (p.Asked?.Changes ?? []).Select(ProposedChangeAnswer.From)],
                    [.. (p.Asked?.Unsaid ?? []).Select(u => u.InWords())],
                    Caution,
                    p.Caution?.Evidence.Sentence
                )
            );
    }

    private static async Task<IResult> Sheet(
        HttpContext http,
        SaddleProposals proposals,
        PracticeQueries practices,
        Guid saddleId,
        Guid horseId,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        return await proposals.Load(practice, saddleId, horseId, ct) is { } p
            ? Results.File(SettingSheet.Write(BenchPapers.Sheet(p, await practices.Contact(practice, ct))), "application/pdf")
            : Problems.From(SaddleProposals.NoSuchFit);
    }

    private static async Task<IResult> GaugePicture(
        HttpContext http,
        SaddleProposals proposals,
        Guid saddleId,
        Guid horseId,
        string form,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    ) =>
        await proposals.Load(SignedIn.From(http.User).Practice, saddleId, horseId, ct) is not { } p
            ? Problems.From(SaddleProposals.NoSuchFit)
        : BenchPapers.Chart(p, null) is { } input
            ? Pictures.Answer(GaugeChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form)
        : Problems.From(Pictures.NothingToDraw);

    private static async Task<IResult> Template(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        PracticeQueries practices,
        Guid horseId,
        string? station,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await data.Load(practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var at = station ?? SaddleProposals.StationOf(horse);
        var traced = horse
            .Visits.Where(v => !v.Withdrawn)
            .Select(v => (Visit: v, Entry: v.Entries.LastOrDefault(e => e.Stands && e.Kind == "cross-section" && e.Station == at)))
            .Where(x => x.Entry is not null)
            .OrderByDescending(x => x.Visit.TakenAt)
            .FirstOrDefault();
        if (traced.Entry is null)
            return Problems.From(NothingTraced);
        var points = await horses.TracingsAt(practice, horseId, [traced.Entry.Version], ct);
        if (!points.TryGetValue(traced.Entry.Version, out var tracing) || TracingAnalysis.Analyse(tracing).Contour is not { } contour)
            return Problems.From(NothingTraced);
        return Results.File(
            BenchTemplate.Write(
                new BenchTemplateInput
                {
                    Head = PaperHead.Of(
                        horse.Practice,
                        await practices.Contact(practice, ct),
                        horse.Profile.Name,
                        PracticeClock.Day(horse.Practice, traced.Visit.TakenAt)
                    ),
                    Station = Formatter.Metric.Station(at),
                    Curve = HorseCharts.Section(Formatter.Metric.Day(traced.Visit.TakenAt), contour),
                }
            ),
            "application/pdf"
        );
    }

    /// <summary>The chart's title: its name stands under it.</summary>
    private static string Range(GaugeTable table)
    {
        var (least, most) = table.Gauge().Range;
        var unit = Formatter.Metric;
        return $"{table.Marks.Count} marks, from {unit.Number(least, table.Unit)} to {unit.Number(most, table.Unit)}";
    }

    private static async Task<IResult> TablePicture(
        HttpContext http,
        PracticeQueries practices,
        string key,
        string form,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (
            await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice
            || !practice.Gauges.TryGetValue(key, out var table)
        )
            return Problems.From(Pictures.NothingToDraw);
        return Pictures.Answer(
            GaugeChart.Draw(BenchPapers.Chart(table, Range(table), []), Pictures.Theme(theme), Pictures.Size(width, height)),
            form
        );
    }
}
