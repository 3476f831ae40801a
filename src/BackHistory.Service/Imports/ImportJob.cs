using BackHistory.Service.Jobs;
using BackHistory.Store;
using BackHistory.Store.Practices;
using Hangfire;
using Npgsql;

namespace BackHistory.Service.Imports;

/// <summary>Enters an import or takes it back, one at a time for a practice.</summary>
public sealed class ImportJob(
    KnownPractices known,
    Importer importer,
    ImportRollback back,
    NpgsqlDataSource database,
    ChangeNotifier notifier
)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 10)]
    public async Task Run(string practice, Guid importId, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await using var turn = await AdvisoryLock.Take(database, $"import:{practice}", ct);
        await importer.Enter(practice, importId, ct);
        await back.Run(practice, importId, ct);
        notifier.SomethingHappened(practice);
    }
}
