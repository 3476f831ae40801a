using Npgsql;

namespace BackHistory.Store;

/// <summary>A turn that one process at a time has, held by a database session: it ends with the session, however that ends.</summary>
public sealed class AdvisoryLock : IAsyncDisposable
{
    private readonly NpgsqlConnection _connection;

    private AdvisoryLock(NpgsqlConnection connection) => _connection = connection;

    /// <summary>Waits for the turn.</summary>
    public static async Task<AdvisoryLock> Take(NpgsqlDataSource database, string name, CancellationToken ct) =>
        (await Ask(database, "select true from pg_advisory_lock(hashtextextended($1, 0))", name, ct))!;

    /// <summary>The turn, or null while somebody else has it.</summary>
    public static Task<AdvisoryLock?> TryTake(NpgsqlDataSource database, string name, CancellationToken ct) =>
        Ask(database, "select pg_try_advisory_lock(hashtextextended($1, 0))", name, ct);

    private static async Task<AdvisoryLock?> Ask(NpgsqlDataSource database, string question, string name, CancellationToken ct)
    {
        var connection = await database.OpenConnectionAsync(ct);
        try
        {
            await using var command = new NpgsqlCommand(question, connection)
            {
                Parameters = { new() { Value = name } },
                CommandTimeout = 0,
            };
            if (await command.ExecuteScalarAsync(ct) is true)
                return new AdvisoryLock(connection);
            await connection.DisposeAsync();
            return null;
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
