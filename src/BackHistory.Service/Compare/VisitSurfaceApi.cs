using System.Globalization;
using BackHistory.Application.Trends;
using BackHistory.Formats.Drawings;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape.Surfaces;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Compare;

/// <summary>The surface of one visit: half volumes, any section between the stations, contours at 1:1, and its change since another
/// visit.</summary>
public static class VisitSurfaceApi
{
    private const double StepMm = 2;

    private static readonly Refused NoSurface = new(
        "no-surface",
        "A surface needs cross-sections at two stations at least, at this visit and at the one it is compared with."
    );

    public static void MapVisitSurface(this IEndpointRouteBuilder api)
    {
        var visit = api.MapGroup("/horses/{horseId:guid}/visits/{visitId:guid}").WithTags("Compare");
        visit.MapGet("/surface", Surface).RequireAuthorization(Policies.See).WithSummary("Half volumes and stations of the lofted back");
        visit
            .MapGet("/contour.{form}", Contour)
            .RequireAuthorization(Policies.See)
            .WithSummary("The registered contour at a station, or at any distance from the datum, 1:1 as SVG or DXF");
        visit
            .MapGet("/change-map", Change)
            .RequireAuthorization(Policies.See)
            .WithSummary("Where the back gained and lost most since an earlier visit");
    }

    private static async Task<BackOfVisit?> Load(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (
            await data.Load(practice, horseId, ct) is not { } horse
            || horse.Visits.FirstOrDefault(v => v.Id == visitId && !v.Withdrawn) is not { } visit
        )
            return null;
        return await BackOfVisit.Load(horses, practice, horseId, visit, horse.Practice.Stations, ct);
    }

    private static async Task<IResult> Surface(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    )
    {
        if (await Load(http, data, horses, horseId, visitId, ct) is not { } back)
            return Problems.From(HorseRefusals.NoSuchVisit);
        return Results.Ok(
            new SurfaceAnswer(
                visitId,
                [.. back.Sections.OrderBy(s => s.FromDatum).Select(s => new StationPlace(s.Station, s.FromDatum))],
                back.Assumed,
                back.Surface?.Range.From,
                back.Surface?.Range.To,
                back.Surface?.HalfVolumes() ?? [],
                back.Surface is null ? NoSurface.Message : null
            )
        );
    }

    private static async Task<IResult> Contour(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        PracticeQueries practices,
        Guid horseId,
        Guid visitId,
        string form,
        string? station,
        double? fromDatum,
        CancellationToken ct
    )
    {
        if (await Load(http, data, horses, horseId, visitId, ct) is not { } back)
            return Problems.From(HorseRefusals.NoSuchVisit);
        var at = station ?? (await practices.Load(SignedIn.From(http.User).Practice, ct) is { } p ? Protocols.UsualOf(p.Stations) : null);
        DrawnLine? line = null;
        if (fromDatum is { } mm && back.Surface?.SectionAt(mm) is { } between)
            line = new DrawnLine(string.Create(CultureInfo.InvariantCulture, $"{mm:0.#} mm from the datum"), between);
        else if (fromDatum is null && back.Sections.FirstOrDefault(s => s.Station == at) is { } section)
            line = DrawnLine.Sample(section.Station, section.Contour);
        if (line is null)
            return Problems.From(Pictures.NothingToDraw);
        var name = string.Create(CultureInfo.InvariantCulture, $"contour-{back.Visit.TakenAt:yyyy-MM-dd}");
        return form switch
        {
            "svg" => Results.File(System.Text.Encoding.UTF8.GetBytes(ContourDrawing.Svg([line])), "image/svg+xml", $"{name}.svg"),
            "dxf" => Results.File(System.Text.Encoding.UTF8.GetBytes(ContourDrawing.Dxf([line])), "image/vnd.dxf", $"{name}.dxf"),
            _ => Problems.From(Pictures.NoSuchForm),
        };
    }

    private static async Task<IResult> Change(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        Guid horseId,
        Guid visitId,
        Guid since,
        CancellationToken ct
    )
    {
        if (
            await Load(http, data, horses, horseId, visitId, ct) is not { } now
            || await Load(http, data, horses, horseId, since, ct) is not { } then
        )
            return Problems.From(HorseRefusals.NoSuchVisit);
        if (ComparedBacks.Between(then, now, StepMm) is not { Map: { } map } backs)
            return Problems.From(NoSurface);
        var known = map.Changes.Where(c => !double.IsNaN(c)).ToArray();
        return Results.Ok(
            new ChangeMapAnswer(
                since,
                visitId,
                StepMm,
                known.Length,
                known.Average(),
                Math.Sqrt(known.Average(c => c * c)),
                Place(map.Gain),
                Place(map.Loss),
                Comparison.Words(backs, Formatter.Metric)
            )
        );
    }

    private static PlaceAnswer? Place(ChangePlace? place) =>
        place is null ? null : new PlaceAnswer(place.Change, place.At.Z, place.DepthBelowMidline, place.Words);
}
