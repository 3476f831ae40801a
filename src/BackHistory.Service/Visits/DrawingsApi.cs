using BackHistory.Application.Visits;
using BackHistory.Formats.Drawings;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape;

namespace BackHistory.Service.Visits;

/// <summary>Contours from drawings of other programs into a visit.</summary>
public static class DrawingsApi
{
    public static void MapDrawings(this IEndpointRouteBuilder api)
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
    }

    private static async Task<IResult> Look(HttpContext http, string format, string? unit, CancellationToken ct)
    {
        var (contours, bad) = Drawing(await Bodies.Read(http.Request, ct), format, unit, ct);
        return bad is not null
            ? Problems.From(bad)
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
            return Problems.From(new Refused("unknown-kind", "A tracing is a cross-section or a topline.", Place: "kind"));
        var body = await Bodies.Read(http.Request, ct);
        var (contours, bad) = Drawing(body, format, unit, ct);
        if (bad is not null)
            return Problems.From(bad);
        if ((line ?? 0) < 0 || (line ?? 0) >= contours!.Lines.Length)
            return Problems.From(new Refused("no-line", $"The drawing has {contours!.Lines.Length} lines.", Place: "line"));
        var tracing = contours.Lines[line ?? 0].ToTracing(known, station, noise ?? 1.0);
        if (midline is not null)
        {
            if (ShapeFiles.Numbers(midline, 2) is not [var x, var y])
                return Problems.From(new Refused("bad-place", "The midline mark is two numbers, x,y in millimetres.", Place: "midline"));
            tracing = tracing with { Midline = new Point(x, y) };
        }
        return await ShapeFiles.Enter(http, runner, more, horseId, visitId, body, [tracing], ct);
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
            return (null, ShapeFiles.UnknownFormat);
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(ct);
        patience.CancelAfter(ShapeFiles.Patience);
        try
        {
            var read = ContourImport.Read(form, body, unit ?? "mm", cancel: patience.Token);
            return read.Refused is { } no ? (null, new Refused(no.Code, no.Message)) : (read.Contours, null);
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return (null, ShapeFiles.TooLong);
        }
    }
}
