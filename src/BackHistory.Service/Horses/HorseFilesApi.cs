using BackHistory.Application.Horses;
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
            .Needs<AttachHorseFile>()
            .WithSummary("Attach a photograph or a document; the body is the file")
            .Accepts<byte[]>("application/octet-stream")
            .WithMetadata(new RequestSizeLimitAttribute(FileBytes.Most + 1));
        files.MapGet("/{fileId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One file");
        files
            .MapPost("/{fileId:guid}/remove", Remove)
            .Needs<RemoveHorseFile>()
            .WithSummary("Show a file no longer")
            .Accepts<ReasonRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, Guid horseId, CancellationToken ct)
    {
        var horse = await horses.Profile(SignedIn.From(http.User).Practice, horseId, ct);
        return horse is null ? Problems.From(HorseRefusals.NoSuchHorse) : Results.Ok(horse.Files);
    }

    private static async Task<IResult> Attach(
        HttpContext http,
        CommandRunner runner,
        AttachHorseFile attach,
        Guid horseId,
        [AsParameters] FileRequest request,
        CancellationToken ct
    )
    {
        var fileId = NewIds.IdFor(http, "file");
        var (file, body, bad) = await request.Read(http, fileId, ct);
        if (bad is not null)
            return Problems.From(bad);
        return await runner.Act(
            http,
            body,
            by => attach.Do(new AttachHorseFile.Input(horseId, file!), by, ct),
            version => Results.Created($"/api/horses/{horseId}/files/{fileId}", new Written(horseId, version, fileId))
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

    private static Task<IResult> Remove(
        HttpContext http,
        CommandRunner runner,
        RemoveHorseFile act,
        Guid horseId,
        Guid fileId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, horseId, (r, by) => act.Do(new RemoveHorseFile.Input(horseId, fileId, r.Reason), by, ct));
}
