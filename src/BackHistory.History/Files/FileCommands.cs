namespace BackHistory.History.Files;

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
