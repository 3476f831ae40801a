using BackHistory.History.Files;
using BackHistory.Store;

namespace BackHistory.Application.Files;

/// <summary>A photograph or a document to be attached to a horse or a saddle.</summary>
/// <param name="Shows">The people who can be seen or read in it.</param>
/// <param name="VisitId">The visit at which it was taken.</param>
/// <param name="TakenAt">When it was taken or written; now, where nothing is said.</param>
public sealed record NewFile(Guid FileId, FileKind Kind, FileBytes Bytes, IReadOnlyList<Guid> Shows, Guid? VisitId, DateTimeOffset? TakenAt)
{
    internal AttachFile Command(CommandContext context) => new(FileId, Kind, Bytes, Shows, VisitId, TakenAt ?? context.Now, context.Actor);
}
