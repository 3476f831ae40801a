using BackHistory.History;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>Everything that an import made is taken back, behind what goes on; one that was not entered yet is discarded.</summary>
public sealed class TakeImportBack(ImportStore imports, ParsedSheets sheets, IBackgroundWork work) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid ImportId);

    /// <returns>Whether it was discarded at once; or why neither.</returns>
    public async Task<(bool Discarded, Refused? Refused)> Do(Input asked, Caller by, CancellationToken ct)
    {
        var practice = by.Context.Tenant;
        if (await imports.Load(practice, asked.ImportId, ct) is not { } import)
            return (false, ImportRefusals.NoSuchImport);
        if (import.State == ImportState.SentIn)
        {
            if (!await imports.Discard(practice, asked.ImportId, ct))
                return (false, ImportRefusals.NotNow);
            if (import.File is { } file)
                sheets.Forget(file, import.Sheet);
            return (true, null);
        }

        if (import.State is not (ImportState.Entered or ImportState.ImportRollback))
            return (false, ImportRefusals.NotNow);
        await imports.Change(
            practice,
            asked.ImportId,
            i => i.State == ImportState.Entered ? i with { State = ImportState.ImportRollback } : i,
            ct
        );
        work.GoOnWithImport(practice, asked.ImportId);
        return (false, null);
    }
}
