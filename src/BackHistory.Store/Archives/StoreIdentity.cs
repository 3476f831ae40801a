using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using BackHistory.Store.Setup;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace BackHistory.Store.Archives;

/// <summary>
/// Which store this is, for cursors: a position counts in one store only. It follows from what no backup carries along: the cluster, the
/// database in it and the table of events as PostgreSQL numbers them. A backup that was put back, here or elsewhere, is another store.
/// </summary>
public sealed class StoreIdentity([FromKeyedServices(StoreSetup.Owner)] NpgsqlDataSource owner)
{
    private const int Length = 12;

    /// <summary>Twelve hexadecimal digits. Asked anew each time: a backup can be put back under a service that runs.</summary>
    public async Task<string> Current(CancellationToken ct)
    {
        const string Numbers = """
            select 'history.mt_events'::regclass::oid::text || ' ' || d.oid::text
            from pg_database d
            where d.datname = current_database()
            """;
        var numbers = $"{await Cluster(ct)} {await Ask(Numbers, ct)}";
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(numbers)))[..Length];
    }

    /// <summary>Of the cluster and of its timeline, which begins anew where a copy of its files was put back to an earlier
    /// moment.</summary>
    private async Task<string> Cluster(CancellationToken ct)
    {
        try
        {
            return await Ask(
                "select s.system_identifier::text || ' ' || c.timeline_id::text from pg_control_system() s, pg_control_checkpoint() c",
                ct
            );
        }
        catch (PostgresException e) when (e.SqlState == PostgresErrorCodes.InsufficientPrivilege)
        {
            return "";
        }
    }

    private async Task<string> Ask(string sql, CancellationToken ct)
    {
        await using var command = owner.CreateCommand(sql);
        return Convert.ToString(await command.ExecuteScalarAsync(ct), CultureInfo.InvariantCulture) ?? "";
    }
}
