namespace BackHistory.History.Files;

/// <summary>A file on a horse or a saddle: the event holds its hash, not its bytes.</summary>
/// <param name="ContentHash">SHA-256 of the bytes, hexadecimal.</param>
/// <param name="Length">Bytes.</param>
/// <param name="Shows">The people who can be seen or read in it, so that it goes when they ask to be erased.</param>
public sealed record AttachedFile(Guid FileId, FileKind Kind, string ContentHash, string MediaType, long Length, IReadOnlyList<Guid> Shows);

public enum FileKind
{
    Photograph,
    Document,
}

/// <param name="TakenAt">When it was taken or written.</param>
public sealed record AttachFile(
    Guid FileId,
    FileKind Kind,
    FileBytes Bytes,
    IReadOnlyList<Guid> Shows,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    Guid By
);

public sealed record RemoveFile(Guid FileId, string Reason, Guid By);

public static class FileRefusals
{
    public static readonly Refused NoSuchFile = new(
        "no-such-file",
        "There is no such file here, or it was removed or erased.",
        RefusalKind.NotFound
    );

    public static readonly Refused FileExists = new("file-exists", "This file was attached already.", RefusalKind.Conflict);

    public static readonly Refused TooManyPeople = new("too-many-people", "At most 50 people are named on one file.", Place: "shows");
}
