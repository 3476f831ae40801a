using BackHistory.Store;

namespace BackHistory.Application.Imports;

/// <summary>Goes on with an import, whichever way it was sent: one at a time for a practice.</summary>
public sealed class ImportRun(AdvisoryLocks turns, Importer importer, ImportRollback back, IChangeNotifier changes)
{
    /// <returns>False when another import of the practice has the turn: nothing was done, and it is to be asked again.</returns>
    public async Task<bool> Run(string practice, Guid importId, CancellationToken ct)
    {
        // Not waited for: a worker that waits does nothing for other practices.
        await using var turn = await turns.TryTake($"import:{practice}", ct);
        if (turn is null)
            return false;
        await importer.Enter(practice, importId, ct);
        await back.Run(practice, importId, ct);
        changes.SomethingHappened(practice);
        return true;
    }
}
