using BackHistory.History.Files;
using BackHistory.History.Saddles;
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
            .RequireAuthorization(Policies.Enter)
            .WithSummary("Attach a photograph or a document; the body is the file")
            .Accepts<byte[]>("application/octet-stream")
            .WithMetadata(new RequestSizeLimitAttribute(FileBytes.Most + 1));
        files.MapGet("/{fileId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One file");
        files
            .MapPost("/{fileId:guid}/remove", Remove)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Show a file no longer")
            .Accepts<ReasonRequest>("application/json");
    }

    private static async Task<IResult> Attach(
        HttpContext http,
        CommandRunner runner,
        Guid saddleId,
        [AsParameters] FileRequest request,
        CancellationToken ct
    )
    {
        var (command, body, bad) = await request.Read(http, ct);
        if (bad is not null)
            return Problems.Of(bad);
        var fileId = NewIds.Of(http, "file");
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) => SaddleDecider.Decide(saddle, command!(fileId, c.Actor, c.Now), c.Now),
            (outcome, _) => Results.Created($"/api/saddles/{saddleId}/files/{fileId}", new Written(saddleId, outcome.Version, fileId))
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

    private static Task<IResult> Remove(HttpContext http, CommandRunner runner, Guid saddleId, Guid fileId) =>
        runner.Change<ReasonRequest, Saddle>(
            http,
            saddleId,
            (r, saddle, c) => SaddleDecider.Decide(saddle, new RemoveFile(fileId, r.Reason, c.Actor), c.Now)
        );
}
