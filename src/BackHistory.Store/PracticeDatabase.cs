using Npgsql;

namespace BackHistory.Store;

/// <summary>Connections of the serving role, for what is asked in plain SQL.</summary>
/// <param name="Members">A connection from here is nobody's: it sees no row of any practice.</param>
public sealed record PracticeDatabase(NpgsqlDataSource Members)
{
    /// <summary>A connection that is this practice's until it is closed.</summary>
    internal async Task<NpgsqlConnection> Open(string practice, CancellationToken ct)
    {
        var connection = await Members.OpenConnectionAsync(ct);
        try
        {
            await TenantIsolation.Scalar(connection, "select set_config($1, $2, false)", ct, TenantIsolation.Setting, practice);
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }
}
