using BackHistory.Application.Files;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.Service.Web;
using BackHistory.Store.Files;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Files;

/// <summary>A file as it is sent in: the bytes are the body, what is said of it stands in the query.</summary>
/// <param name="Kind">photograph or document.</param>
/// <param name="TakenAt">When it was taken or written; now, where nothing is said.</param>
/// <param name="Shows">The people who can be seen or read in it.</param>
public sealed record FileRequest(
    [FromQuery] string Kind,
    [FromQuery] Guid? VisitId,
    [FromQuery] DateTimeOffset? TakenAt,
    [FromQuery] Guid[]? Shows
)
{
    /// <summary>The file, or why it is not taken; and the body, for the fingerprint.</summary>
    internal async Task<(NewFile? File, byte[] Body, Refused? Refused)> Read(HttpContext http, Guid fileId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        if (!Enum.TryParse<FileKind>(Kind, ignoreCase: true, out var kind) || !Enum.IsDefined(kind))
            return (null, body, new Refused("unknown-kind", "A file is a photograph or a document.", Place: "kind"));
        var (file, refused) = FileBytes.From(body);
        return refused is not null ? (null, body, refused) : (new NewFile(fileId, kind, file!, Shows ?? [], VisitId, TakenAt), body, null);
    }
}

/// <summary>Files on their way out.</summary>
internal static class FileAnswer
{
    /// <summary>Saved by the browser and never shown inside a page of ours: what somebody sent in runs nothing here.</summary>
    public static async Task<IResult> Send(HttpContext http, FileStore files, string practice, AttachedFile? file, CancellationToken ct)
    {
        if (file is null)
            return Problems.From(FileRefusals.NoSuchFile);
        if (http.Request.Headers.IfNoneMatch == $"\"{file.ContentHash}\"")
            return Results.StatusCode(StatusCodes.Status304NotModified);
        var memory = new MemoryStream((int)file.Length);
        if (!await files.Copy(practice, file.ContentHash, memory, ct))
            return Problems.From(FileRefusals.NoSuchFile);
        memory.Position = 0;
        http.Response.Headers.ETag = $"\"{file.ContentHash}\"";
        http.Response.Headers.CacheControl = "private, max-age=3600";
        return Results.File(memory, file.MediaType, $"{file.FileId:N}.{Ending(file.MediaType)}");
    }

    private static string Ending(string mediaType) =>
        mediaType switch
        {
            "image/jpeg" => "jpg",
            "image/png" => "png",
            "image/webp" => "webp",
            "application/pdf" => "pdf",
            _ => "txt",
        };
}
