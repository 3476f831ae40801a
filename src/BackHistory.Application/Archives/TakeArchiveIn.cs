using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Archives;

/// <summary>An archive becomes the history of a practice that is empty.</summary>
public sealed class TakeArchiveIn(ArchiveReader reader, AuditBook audit, IChangeNotifier changes) : IAct
{
    public static Right Needs => Right.Administer;

    /// <param name="File">Can be read twice.</param>
    /// <param name="Implausible">Whether events are taken in though no horse has their numbers.</param>
    public sealed record Input(Stream File, bool Implausible);

    /// <returns>Why nothing, or not all of it, was taken in; null when it was.</returns>
    public async Task<Refused?> Do(Input archive, Caller by, CancellationToken ct)
    {
        var refused = await reader.Read(by.Context.Tenant, archive.File, archive.Implausible, ct);
        if (refused is not null)
            return refused;
        changes.SomethingHappened(by.Context.Tenant);
        await audit.Note(by, AuditWords.ArchiveTakenIn, ct: ct);
        return null;
    }
}
