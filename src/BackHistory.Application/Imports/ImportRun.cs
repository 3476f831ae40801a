using BackHistory.Store;

namespace BackHistory.Application.Imports;

/// <summary>Goes on with an import, whichever way it was sent: one at a time for a practice.</summary>
public sealed class ImportRun(AdvisoryLocks turns, Importer importer, ImportRollback back, IChangeNotifier changes)
{
    public async Task Run(string practice, Guid importId, CancellationToken ct)
    {
        await using var turn = await turns.Take($"import:{practice}", ct);
        await importer.Enter(practice, importId, ct);
        await back.Run(practice, importId, ct);
        changes.SomethingHappened(practice);
    }
}
