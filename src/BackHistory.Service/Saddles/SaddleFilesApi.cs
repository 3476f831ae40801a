using BackHistory.Application.Saddles;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.Service.Access;
using BackHistory.Service.Files;
using BackHistory.Service.Horses;
using BackHistory.Service.Web;
using BackHistory.Store.Files;
using BackHistory.Store.Saddles;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Saddles;

/// <summary>Photographs and documents of a saddle over HTTP.</summary>
public static class SaddleFilesApi
{
    public static void MapSaddleFiles(this IEndpointRouteBuilder api)
    {
        var files = api.MapGroup("/saddles/{saddleId:guid}/files").WithTags("Files");
        files
            .MapPost("/", Attach)
            .Needs<AttachSaddleFile>()
            .WithSummary("Attach a photograph or a document; the body is the file")
            .Accepts<byte[]>("application/octet-stream")
            .WithMetadata(new RequestSizeLimitAttribute(FileBytes.Most + 1));
        files.MapGet("/{fileId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One file");
        files
            .MapPost("/{fileId:guid}/remove", Remove)
            .Needs<RemoveSaddleFile>()
            .WithSummary("Show a file no longer")
            .Accepts<ReasonRequest>("application/json");
    }

    private static readonly Refused NoVisitHere = new(
        "no-visit-here",
        "A saddle's file belongs to no visit. Nothing was saved; leave the visit out, or attach the file to the horse.",
        Place: "VisitId"
    );

    private static async Task<IResult> Attach(
        HttpContext http,
        CommandRunner runner,
        AttachSaddleFile attach,
        Guid saddleId,
        [AsParameters] FileRequest request,
        CancellationToken ct
    )
    {
        if (request.VisitId is not null)
            return Problems.From(NoVisitHere);
        var fileId = NewIds.IdFor(http, "file");
        var (file, body, bad) = await request.Read(http, fileId, ct);
        if (bad is not null)
            return Problems.From(bad);
        return await runner.Act(
            http,
            body,
            by => attach.Do(new AttachSaddleFile.Input(saddleId, file!), by, ct),
            version => Results.Created($"/api/saddles/{saddleId}/files/{fileId}", new Written(saddleId, version, fileId))
        );
    }

    private static async Task<IResult> Get(
        HttpContext http,
        SaddleQueries saddles,
        FileStore files,
        Guid saddleId,
        Guid fileId,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        var saddle = await saddles.Load(practice, saddleId, ct);
        return await FileAnswer.Send(http, files, practice, saddle?.Files.GetValueOrDefault(fileId), ct);
    }

    private static Task<IResult> Remove(
        HttpContext http,
        CommandRunner runner,
        RemoveSaddleFile act,
        Guid saddleId,
        Guid fileId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, saddleId, (r, by) => act.Do(new RemoveSaddleFile.Input(saddleId, fileId, r.Reason), by, ct));
}
