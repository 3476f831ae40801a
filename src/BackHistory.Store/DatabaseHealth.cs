using Npgsql;

namespace BackHistory.Store;

/// <summary>Whether the database answers.</summary>
public sealed class DatabaseHealth(NpgsqlDataSource database)
{
    /// <exception cref="Exception">It does not; <see cref="IsUnreachable"/> says so of it.</exception>
    public async Task Ask(CancellationToken ct)
    {
        await using var command = database.CreateCommand("select 1");
        await command.ExecuteScalarAsync(ct);
    }

    /// <summary>Whether a fault is the database's, whatever it is.</summary>
    public static bool IsUnreachable(Exception fault) => fault is NpgsqlException;

    /// <summary>Whether it may pass by itself, so that the same again may go well.</summary>
    public static bool IsPassing(Exception fault) => fault is NpgsqlException { IsTransient: true };
}
