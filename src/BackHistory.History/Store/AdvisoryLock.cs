using Npgsql;

namespace BackHistory.History.Store;

/// <summary>A turn that one process at a time has, held by a database session: it ends with the session, however that ends.</summary>
internal sealed class AdvisoryLock : IAsyncDisposable
{
    private readonly NpgsqlConnection _connection;

    private AdvisoryLock(NpgsqlConnection connection) => _connection = connection;

    /// <summary>Waits for the turn.</summary>
    public static async Task<AdvisoryLock> Take(NpgsqlDataSource database, string name, CancellationToken ct)
    {
        var connection = await database.OpenConnectionAsync(ct);
        try
        {
            await using var command = new NpgsqlCommand("select pg_advisory_lock(hashtextextended($1, 0))", connection) { Parameters = { new() { Value = name } }, CommandTimeout = 0 };
            await command.ExecuteNonQueryAsync(ct);
            return new AdvisoryLock(connection);
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        // A pooled connection keeps its session: the lock is given back by hand.
        await using var command = new NpgsqlCommand("select pg_advisory_unlock_all()", _connection);
        await command.ExecuteNonQueryAsync();
        await _connection.DisposeAsync();
    }
}
