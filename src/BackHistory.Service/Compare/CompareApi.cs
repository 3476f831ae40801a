using System.Globalization;
using BackHistory.Formats.Meshes;
using BackHistory.History.Horses;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Sheets;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Compare;

/// <summary>Two dates of one horse side by side: pictures, a surface with its change map, a report, files for other programs.</summary>
public static class CompareApi
{
    private const double ScreenStepMm = 6;

    /// <summary>Of the picture, which a telephone loads with the page.</summary>
    private const double PictureStepMm = 10;
    private const double FileStepMm = 3;

    public static void MapCompare(this IEndpointRouteBuilder api)
    {
        var compare = api.MapGroup("/horses/{horseId:guid}/compare").WithTags("Compare");
        compare
            .MapGet("/section.{form}", Section)
            .RequireAuthorization(Policies.See)
            .WithSummary("Cross-sections of one station at the dates asked for");
        compare.MapGet("/topline.{form}", Topline).RequireAuthorization(Policies.See).WithSummary("Toplines at the dates asked for");
        compare
            .MapGet("/change.{form}", Change)
            .RequireAuthorization(Policies.See)
            .WithSummary("Where the back gained and lost between the first and the last of the dates, seen from above");
        compare
            .MapGet("/back.json", Back)
            .RequireAuthorization(Policies.See)
            .WithSummary("The lofted back, with its change since an earlier date");
        compare.MapGet("/back.{form}", BackFile).RequireAuthorization(Policies.See).WithSummary("The lofted back as STL or glTF");
        compare.MapGet("/report.pdf", Report).RequireAuthorization(Policies.See).WithSummary("The comparison as a report");
    }

    private static async Task<IResult> Section(
        HttpContext http,
        Comparison compare,
        Guid horseId,
        string form,
        string station,
        string visits,
        bool? mirror,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (await compare.Load(SignedIn.From(http.User).Practice, horseId, visits, ct) is not { } c)
            return Problems.From(HorseRefusals.NoSuchHorse);
        return c.Section(station, mirror ?? false) is { } input
            ? Pictures.Answer(SectionChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form)
            : Problems.From(Pictures.NothingToDraw);
    }

    private static async Task<IResult> Topline(
        HttpContext http,
        Comparison compare,
        Guid horseId,
        string form,
        string visits,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (await compare.Load(SignedIn.From(http.User).Practice, horseId, visits, ct) is not { } c)
            return Problems.From(HorseRefusals.NoSuchHorse);
        return c.Topline() is { } input
            ? Pictures.Answer(ToplineChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form)
            : Problems.From(Pictures.NothingToDraw);
    }

    private static async Task<IResult> Change(
        HttpContext http,
        Comparison compare,
        Guid horseId,
        string form,
        string visits,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        if (await compare.Load(SignedIn.From(http.User).Practice, horseId, visits, ct) is not { } c)
            return Problems.From(HorseRefusals.NoSuchHorse);
        return c.ChangeSeenFromAbove(PictureStepMm) is { } input
            ? Pictures.Answer(ChangeMapChart.Draw(input, Pictures.Theme(theme), Pictures.Size(width, height)), form)
            : Problems.From(Pictures.NothingToDraw);
    }

    private static async Task<IResult> Back(HttpContext http, Comparison compare, Guid horseId, string visits, CancellationToken ct)
    {
        if (await compare.Load(SignedIn.From(http.User).Practice, horseId, visits, ct) is not { } c)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var change = c.Change(ScreenStepMm);
        if ((change?.Now ?? c.Backs[^1].Surface) is not { } now)
            return Problems.From(Pictures.NothingToDraw);
        var map = change?.Map;
        var mesh = map?.Mesh() ?? now.Mesh(ScreenStepMm);
        return Results.Ok(
            new BackForScreen(
                [.. mesh.Vertices.SelectMany(v => new[] { Math.Round(v.X, 1), Math.Round(v.Y, 1), Math.Round(v.Z, 1) })],
                [.. mesh.Triangles.SelectMany(t => new[] { t.A, t.B, t.C })],
                map is null ? null : [.. map.Changes.Select(v => double.IsNaN(v) ? (double?)null : Math.Round(v, 1))],
                map is null ? 10 : Comparison.SpanOf(map),
                now.Range.From,
                now.Range.To,
                [
                    .. now.Sections.Select(s => new StationLine(
                        Formatter.Metric.Station(s.Station),
                        s.FromDatum,
                        [.. s.Contour.Sample(8).Select(p => new[] { p.X, p.Y + now.HeightAt(s.FromDatum) + 0.6, s.FromDatum })]
                    )),
                ]
            )
        );
    }

    private static async Task<IResult> BackFile(
        HttpContext http,
        Comparison compare,
        Guid horseId,
        string form,
        string visits,
        CancellationToken ct
    )
    {
        if (await compare.Load(SignedIn.From(http.User).Practice, horseId, visits, ct) is not { } c)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var change = c.Change(FileStepMm);
        if ((change?.Now ?? c.Backs[^1].Surface) is not { } now)
            return Problems.From(Pictures.NothingToDraw);
        var map = change?.Map;
        var mesh = map?.Mesh() ?? now.Mesh(FileStepMm);
        var name = string.Create(CultureInfo.InvariantCulture, $"back-{c.Backs[^1].Visit.TakenAt:yyyy-MM-dd}");
        return form switch
        {
            "stl" => Results.File(StlFile.Write(mesh), "model/stl", $"{name}.stl"),
            "glb" => Results.File(GltfFile.Write(mesh, name, map?.Changes), "model/gltf-binary", $"{name}.glb"),
            _ => Problems.From(Pictures.NoSuchForm),
        };
    }

    private static async Task<IResult> Report(
        HttpContext http,
        Comparison compare,
        PracticeQueries practices,
        Guid horseId,
        string visits,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await compare.Load(practice, horseId, visits, ct) is not { } c)
            return Problems.From(HorseRefusals.NoSuchHorse);
        return Results.File(ComparisonReport.Write(c.Report(await practices.Contact(practice, ct))), "application/pdf");
    }
}
