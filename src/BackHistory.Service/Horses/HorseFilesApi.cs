using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Files;
using BackHistory.Service.Web;
using BackHistory.Store.Files;
using BackHistory.Store.Horses;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Horses;

/// <summary>Photographs and documents of a horse over HTTP.</summary>
public static class HorseFilesApi
{
    public static void MapHorseFiles(this IEndpointRouteBuilder api)
    {
        var files = api.MapGroup("/horses/{horseId:guid}/files").WithTags("Files");
        files.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("Files attached to the horse and its visits");
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

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, Guid horseId, CancellationToken ct)
    {
        var horse = await horses.Profile(SignedIn.From(http.User).Practice, horseId, ct);
        return horse is null ? Problems.Of(HorseRefusals.NoSuchHorse) : Results.Ok(horse.Files);
    }

    private static async Task<IResult> Attach(
        HttpContext http,
        CommandRunner runner,
        Guid horseId,
        [AsParameters] FileRequest request,
        CancellationToken ct
    )
    {
        var (command, body, bad) = await request.Read(http, ct);
        if (bad is not null)
            return Problems.Of(bad);
        var fileId = NewIds.Of(http, "file");
        return await runner.Run<Horse>(
            http,
            horseId,
            body,
            creates: false,
            (horse, c) => HorseDecider.Decide(horse, command!(fileId, c.Actor, c.Now), c.Now),
            (outcome, _) => Results.Created($"/api/horses/{horseId}/files/{fileId}", new Written(horseId, outcome.Version, fileId))
        );
    }

    private static async Task<IResult> Get(
        HttpContext http,
        HorseQueries horses,
        FileStore files,
        Guid horseId,
        Guid fileId,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        var horse = await horses.Profile(practice, horseId, ct);
        return await FileAnswer.Send(http, files, practice, horse?.Files.FirstOrDefault(f => f.File.FileId == fileId)?.File, ct);
    }

    private static Task<IResult> Remove(HttpContext http, CommandRunner runner, Guid horseId, Guid fileId) =>
        runner.Change<ReasonRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new RemoveFile(fileId, r.Reason, c.Actor), c.Now)
        );
}
