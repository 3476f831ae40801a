using BackHistory.Application.Archives;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Audit;
using BackHistory.Service.Configuration;
using BackHistory.Service.Store;
using BackHistory.Service.Web;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Archives;

/// <summary>Taking everything out, and in again, over HTTP.</summary>
public static class ArchiveApi
{
    private const long Most = 4L << 30;

    public static void MapArchive(this IEndpointRouteBuilder api)
    {
        var archive = api.MapGroup("/").WithTags("Archive");
        archive.MapGet("/archive", Practice).RequireAuthorization(Policies.Administer).WithSummary("The whole practice as one archive");
        archive
            .MapPost("/archive", Take)
            .Needs<TakeArchiveIn>()
            .WithSummary("Take an archive into this practice, which must be empty; the body is the file")
            .Accepts<byte[]>("application/zip")
            .WithMetadata(new RequestSizeLimitAttribute(Most));
        archive
            .MapGet("/horses/{horseId:guid}/archive", Horse)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("One horse with its saddles and reminders as one archive");
        archive
            .MapGet("/schemas", () => Results.Ok(EventSchemas.All()))
            .RequireAuthorization(Policies.See)
            .WithSummary("The JSON Schema of every event");
    }

    private static async Task<IResult> Practice(
        HttpContext http,
        ArchiveWriter writer,
        AuditTrail audit,
        Settings settings,
        CancellationToken ct
    ) => await Send(http, writer, audit, settings, null, null, ct);

    private static async Task<IResult> Horse(
        HttpContext http,
        ArchiveQueries archive,
        ArchiveWriter writer,
        AuditTrail audit,
        Settings settings,
        Guid horseId,
        CancellationToken ct
    ) =>
        await archive.ScopeOf(SignedIn.From(http.User).Practice, horseId, ct) is { } scope
            ? await Send(http, writer, audit, settings, scope, horseId, ct)
            : Problems.From(HorseRefusals.NoSuchHorse);

    /// <summary>Written into a file first: an archive that cannot be finished is an error, not half a file.</summary>
    private static async Task<IResult> Send(
        HttpContext http,
        ArchiveWriter writer,
        AuditTrail audit,
        Settings settings,
        ArchiveScope? scope,
        Guid? horseId,
        CancellationToken ct
    )
    {
        // Written down before a byte leaves: what could not be written down is not taken.
        await audit.Note(http, AuditWords.ArchiveTaken, horseId: horseId, ct: ct);
        var file = Temporary(settings);
        try
        {
            await writer.Write(SignedIn.From(http.User).Practice, scope, file, ct);
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }

        file.Position = 0;
        return Results.File(file, "application/zip", horseId is { } horse ? $"horse-{horse:N}.zip" : "practice.zip");
    }

    private static readonly History.Refused NoSuchChoice = new(
        "bad-choice",
        "implausible is set-aside, or left out.",
        Place: "implausible"
    );

    /// <param name="implausible">
    /// What becomes of events with numbers that no horse has: left out, they refuse the archive; or <c>set-aside</c>.
    /// </param>
    private static async Task<IResult> Take(
        HttpContext http,
        TakeArchiveIn act,
        Settings settings,
        TimeProvider time,
        string? implausible,
        CancellationToken ct
    )
    {
        if (implausible is not (null or "set-aside"))
            return Problems.From(NoSuchChoice);
        var (by, bad) = CommandRequest.Caller(http, time);
        if (bad is not null)
            return Problems.From(bad);
        await using var file = Temporary(settings);
        await http.Request.Body.CopyToAsync(file, ct);
        file.Position = 0;
        var refused = await act.Do(new(file, implausible is not null), by!, ct);
        return refused is null ? Results.NoContent() : Problems.From(refused);
    }

    private static FileStream Temporary(Settings settings)
    {
        var folder = ClosedFiles.NewFolder(Path.Combine(settings.State, StateFolder.Archives));
        return ClosedFiles.NewFile(
            Path.Combine(folder.FullName, $"{Guid.CreateVersion7():N}.zip"),
            FileAccess.ReadWrite,
            FileOptions.DeleteOnClose | FileOptions.Asynchronous
        );
    }
}
