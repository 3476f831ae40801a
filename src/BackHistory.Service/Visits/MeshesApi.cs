using System.Security.Cryptography;
using BackHistory.Application.Visits;
using BackHistory.Formats.Meshes;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Trends.SinceFit;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Visits;

/// <summary>Cross-sections cut out of a scanner's mesh, into a visit.</summary>
public static class MeshesApi
{
    private const int MostMeshBytes = 256 << 20;

    public static void MapMeshes(this IEndpointRouteBuilder api)
    {
        var visit = api.MapGroup("/horses/{horseId:guid}/visits/{visitId:guid}").WithTags("Visits");
        visit
            .MapPost("/mesh/{format}", Mesh)
            .Needs<EnterMore>()
            .WithMetadata(new RequestSizeLimitAttribute(MostMeshBytes))
            .WithSummary("Cross-sections of an OBJ, PLY or STL mesh at the stations, as tracings of this visit")
            .Accepts<byte[]>("application/octet-stream");
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
            return Problems.From(ShapeFiles.UnknownFormat);
        double? scale = unit switch
        {
            null or "mm" => 1,
            "cm" => 10,
            "m" => 1000,
            "in" => Inch.Millimetres,
            _ => null,
        };
        if (scale is not { } perUnit)
            return Problems.From(new Refused("unknown-unit", "A mesh is in mm, cm, m or in.", Place: "unit"));
        if (ShapeFiles.Numbers(datum, 3) is not { } d || ShapeFiles.Numbers(up, 3) is not { } u || ShapeFiles.Numbers(tail, 3) is not { } t)
            return Problems.From(new Refused("bad-place", "Datum, up and tail are three numbers each, x,y,z of the mesh."));
        if (Stations(stations) is not { } places)
            return Problems.From(
                new Refused(
                    "bad-place",
                    "Stations are keys with distances in millimetres: shoulder:0,behind-shoulder:102.",
                    Place: "stations"
                )
            );
        var body = await Bodies.Read(http.Request, ct);
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(ct);
        patience.CancelAfter(ShapeFiles.Patience);
        IReadOnlyList<MeshSection> cut;
        try
        {
            var (mesh, refused) = MeshImport.Read(form, body, cancel: patience.Token);
            if (refused is not null)
                return Problems.From(new Refused(refused.Code, refused.Message));
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
            return Problems.From(ShapeFiles.TooLong);
        }
        if (cut.FirstOrDefault(c => c.Refused is not null) is { Refused: { } no } where)
            return Problems.From(new Refused(no.Code, $"{where.Station}: {no.Message}", Place: "stations"));
        return await ShapeFiles.Enter(http, runner, more, horseId, visitId, SHA256.HashData(body), [.. cut.Select(c => c.Tracing!)], ct);
    }

    private static List<(string, double)>? Stations(string text)
    {
        var found = new List<(string, double)>();
        foreach (var part in text.Split(',', 20))
        {
            if (part.Split(':') is not [{ Length: > 0 } key, var at] || ShapeFiles.Numbers(at, 1) is not [var place])
                return null;
            found.Add((key.Trim(), place));
        }
        return found;
    }

    private static Point3 Point(double[] p) => new(p[0], p[1], p[2]);
}
