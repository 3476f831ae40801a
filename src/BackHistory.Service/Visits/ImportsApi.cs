using System.Globalization;
using System.Security.Cryptography;
using BackHistory.Application.Visits;
using BackHistory.Formats.Drawings;
using BackHistory.Formats.Meshes;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Trends.SinceFit;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Visits;

/// <summary>Contours from drawings of other programs, and cross-sections cut out of a scanner's mesh, into a visit.</summary>
public static class ImportsApi
{
    private const int MostMeshBytes = 256 << 20;

    /// <summary>A hostile file is given up after this long.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private static readonly Refused TooLong = new("too-large", "Reading the file took too long; thin it out.");

    private static readonly Refused UnknownFormat = new(
        "unknown-format",
        "Drawings come as svg, dxf or csv, meshes as obj, ply or stl.",
        Place: "format"
    );

    public static void MapImports(this IEndpointRouteBuilder api)
    {
        api.MapPost("/contours/{format}", Look)
            .RequireAuthorization(Policies.Enter)
            .WithTags("Visits")
            .WithSummary("What lines a drawing holds; nothing is saved")
            .Accepts<byte[]>("application/octet-stream");
        var visit = api.MapGroup("/horses/{horseId:guid}/visits/{visitId:guid}").WithTags("Visits");
        visit
            .MapPost("/contours/{format}", Contour)
            .Needs<EnterMore>()
            .WithSummary("A line of an SVG, DXF or CSV drawing as a tracing of this visit")
            .Accepts<byte[]>("application/octet-stream");
        visit
            .MapPost("/mesh/{format}", Mesh)
            .Needs<EnterMore>()
            .WithMetadata(new RequestSizeLimitAttribute(MostMeshBytes))
            .WithSummary("Cross-sections of an OBJ, PLY or STL mesh at the stations, as tracings of this visit")
            .Accepts<byte[]>("application/octet-stream");
    }

    private static async Task<IResult> Look(HttpContext http, string format, string? unit, CancellationToken ct)
    {
        var (contours, bad) = Drawing(await Bodies.Read(http.Request, ct), format, unit, ct);
        return bad is not null
            ? Problems.Of(bad)
            : Results.Ok(
                new DrawingAnswer(
                    contours!.UnitStated,
                    [
                        .. contours.Lines.Select(l => new DrawnLineAnswer(
                            l.Name,
                            l.Points.Length,
                            l.Length,
                            l.Points.Min(p => p.X),
                            l.Points.Max(p => p.X),
                            l.Points.Min(p => p.Y),
                            l.Points.Max(p => p.Y)
                        )),
                    ]
                )
            );
    }

    /// <param name="unit">For a drawing that states none.</param>
    /// <param name="line">Which line, the longest being 0.</param>
    /// <param name="midline">Where the midline mark lies in the drawing, <c>x,y</c> in millimetres; its origin when left out.</param>
    private static async Task<IResult> Contour(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        string format,
        string? kind,
        string? station,
        string? unit,
        int? line,
        string? midline,
        double? noise,
        CancellationToken ct
    )
    {
        var form = kind switch
        {
            null or "cross-section" => TracingKind.CrossSection,
            "topline" => TracingKind.Topline,
            _ => (TracingKind?)null,
        };
        if (form is not { } known)
            return Problems.Of(new Refused("unknown-kind", "A tracing is a cross-section or a topline.", Place: "kind"));
        var body = await Bodies.Read(http.Request, ct);
        var (contours, bad) = Drawing(body, format, unit, ct);
        if (bad is not null)
            return Problems.Of(bad);
        if ((line ?? 0) < 0 || (line ?? 0) >= contours!.Lines.Length)
            return Problems.Of(new Refused("no-line", $"The drawing has {contours!.Lines.Length} lines.", Place: "line"));
        var tracing = contours.Lines[line ?? 0].ToTracing(known, station, noise ?? 1.0);
        if (midline is not null)
        {
            if (Numbers(midline, 2) is not [var x, var y])
                return Problems.Of(new Refused("bad-place", "The midline mark is two numbers, x,y in millimetres.", Place: "midline"));
            tracing = tracing with { Midline = new Point(x, y) };
        }
        return await Enter(http, runner, more, horseId, visitId, body, [tracing], ct);
    }

    /// <param name="datum">The rear edge of the left shoulder blade brought onto the median plane, <c>x,y,z</c> of the mesh.</param>
    /// <param name="up">The vertical, <c>x,y,z</c>.</param>
    /// <param name="tail">Towards the tail, <c>x,y,z</c>.</param>
    /// <param name="stations">Keys with distances from the datum in millimetres: <c>shoulder:0,behind-shoulder:102</c>.</param>
    private static async Task<IResult> Mesh(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        string format,
        string datum,
        string up,
        string tail,
        string stations,
        string? unit,
        double? noise,
        CancellationToken ct
    )
    {
        MeshFormat? known = format switch
        {
            "obj" => MeshFormat.Obj,
            "ply" => MeshFormat.Ply,
            "stl" => MeshFormat.Stl,
            _ => null,
        };
        if (known is not { } form)
            return Problems.Of(UnknownFormat);
        double? scale = unit switch
        {
            null or "mm" => 1,
            "cm" => 10,
            "m" => 1000,
            "in" => Inch.Millimetres,
            _ => null,
        };
        if (scale is not { } perUnit)
            return Problems.Of(new Refused("unknown-unit", "A mesh is in mm, cm, m or in.", Place: "unit"));
        if (Numbers(datum, 3) is not { } d || Numbers(up, 3) is not { } u || Numbers(tail, 3) is not { } t)
            return Problems.Of(new Refused("bad-place", "Datum, up and tail are three numbers each, x,y,z of the mesh."));
        if (Stations(stations) is not { } places)
            return Problems.Of(
                new Refused(
                    "bad-place",
                    "Stations are keys with distances in millimetres: shoulder:0,behind-shoulder:102.",
                    Place: "stations"
                )
            );
        var body = await Bodies.Read(http.Request, ct);
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(ct);
        patience.CancelAfter(Patience);
        IReadOnlyList<MeshSection> cut;
        try
        {
            var (mesh, refused) = MeshImport.Read(form, body, cancel: patience.Token);
            if (refused is not null)
                return Problems.Of(new Refused(refused.Code, refused.Message));
            cut = MeshCut.At(
                mesh!,
                new MeshFrame(Point(d), Point(u), Point(t), perUnit),
                places,
                noise: noise ?? 0.5,
                cancel: patience.Token
            );
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return Problems.Of(TooLong);
        }
        if (cut.FirstOrDefault(c => c.Refused is not null) is { Refused: { } no } where)
            return Problems.Of(new Refused(no.Code, $"{where.Station}: {no.Message}", Place: "stations"));
        return await Enter(http, runner, more, horseId, visitId, SHA256.HashData(body), [.. cut.Select(c => c.Tracing!)], ct);
    }

    private static (ImportedContours? Contours, Refused? Refused) Drawing(byte[] body, string format, string? unit, CancellationToken ct)
    {
        ContourFormat? known = format switch
        {
            "svg" => ContourFormat.Svg,
            "dxf" => ContourFormat.Dxf,
            "csv" => ContourFormat.Csv,
            _ => null,
        };
        if (known is not { } form)
            return (null, UnknownFormat);
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(ct);
        patience.CancelAfter(Patience);
        try
        {
            var read = ContourImport.Read(form, body, unit ?? "mm", cancel: patience.Token);
            return read.Refused is { } no ? (null, new Refused(no.Code, no.Message)) : (read.Contours, null);
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return (null, TooLong);
        }
    }

    private static Task<IResult> Enter(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        byte[] body,
        IReadOnlyList<Tracing> tracings,
        CancellationToken ct
    ) =>
        VisitsApi.Enter(
            http,
            runner,
            more,
            horseId,
            visitId,
            body,
            [.. tracings.Select((t, i) => new TracingEntry(NewIds.Of(http, "imported", i), t))],
            ct
        );

    private static List<(string, double)>? Stations(string text)
    {
        var found = new List<(string, double)>();
        foreach (var part in text.Split(',', 20))
        {
            if (part.Split(':') is not [{ Length: > 0 } key, var at] || Numbers(at, 1) is not [var place])
                return null;
            found.Add((key.Trim(), place));
        }
        return found;
    }

    private static double[]? Numbers(string text, int count)
    {
        var parts = text.Split(',');
        var numbers = new double[count];
        if (parts.Length != count)
            return null;
        for (var i = 0; i < count; i++)
            if (
                !double.TryParse(parts[i], NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i]) || !double.IsFinite(numbers[i])
            )
                return null;
        return numbers;
    }

    private static Point3 Point(double[] p) => new(p[0], p[1], p[2]);
}
