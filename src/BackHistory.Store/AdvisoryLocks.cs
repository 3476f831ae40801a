using Npgsql;

namespace BackHistory.Store;

/// <summary>Turns of the serving role that one process at a time has, by name.</summary>
public sealed class AdvisoryLocks(NpgsqlDataSource database)
{
    /// <inheritdoc cref="AdvisoryLock.Take"/>
    public Task<AdvisoryLock> Take(string name, CancellationToken ct) => AdvisoryLock.Take(database, name, ct);

    /// <inheritdoc cref="AdvisoryLock.TryTake"/>
    public Task<AdvisoryLock?> TryTake(string name, CancellationToken ct) => AdvisoryLock.TryTake(database, name, ct);
}
