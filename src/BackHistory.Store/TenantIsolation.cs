using System.Security.Cryptography;
using System.Text;
using Npgsql;

namespace BackHistory.Store;

/// <summary>
/// The second isolation of practices, in the database itself. Everything that serves a practice connects as the <em>member</em>: a role
/// that owns nothing, cannot pass row-level security and sees a row only where its tenant is the practice that was named on this
/// connection. A query that forgot its filter, or a connection on which no practice was named, yields nothing. The <em>owner</em>, the
/// role of the connection string, keeps schema, read models, accounts and jobs.
/// </summary>
public static class TenantIsolation
{
    /// <summary>Where everything of the history lies in the database.</summary>
    internal const string Schema = "history";

    /// <summary>Where a connection says whose it is.</summary>
    internal const string Setting = "backhistory.practice";

    private const string MartensPolicy = "marten_tenant_isolation";

    /// <summary>The member's connection string, from the owner's: both follow from it, so that every instance of the service knows
    /// them.</summary>
    public static string MemberOf(string owner)
    {
        var member = new NpgsqlConnectionStringBuilder(owner);
        var login = member.Database is { Length: > 0 } database ? database : member.Username ?? "backhistory";
        member.Username = NameOf(login);
        // Who may log in without a password gets a member without one: such a role cannot log in where passwords are asked for.
        member.Password = member.Password is { Length: > 0 } secret
            ? Convert.ToHexStringLower(HMACSHA256.HashData(Encoding.UTF8.GetBytes(secret), Encoding.UTF8.GetBytes($"member of {login}")))
            : null;
        return Closed(member);
    }

    /// <summary>A connection string whose connections start as nobody's, and are nobody's again when they go back to the pool.</summary>
    public static string Closed(string connection) => Closed(new NpgsqlConnectionStringBuilder(connection));

    /// <summary>Raises tenant isolation over every table that there is. Doing it again changes nothing.</summary>
    /// <exception cref="TenantIsolationException">The member cannot be made, cannot connect, or could see past it; the message
    /// says what to do.</exception>
    public static async Task Raise(NpgsqlDataSource owner, string member, CancellationToken ct)
    {
        var login = new NpgsqlConnectionStringBuilder(member);
        await using (var turn = await AdvisoryLock.Take(owner, "raise the wall", ct))
        await using (var connection = await owner.OpenConnectionAsync(ct))
        {
            await TenantRole.Make(connection, login, ct);
            await using var transaction = await connection.BeginTransactionAsync(ct);
            await Grant(connection, login.Username!, ct);
            await transaction.CommitAsync(ct);
        }

        await TenantRole.Prove(login, ct);
    }

    private static async Task Grant(NpgsqlConnection connection, string member, CancellationToken ct)
    {
        var who = Quoted(member);
        var owner = Quoted((string)(await Scalar(connection, "select current_user::text", ct))!);
        var keeping = (string)(await Scalar(connection, "select 'keeper_' || current_user::regrole::oid", ct))!;
        await Do(connection, $"grant usage on schema {Schema} to {who}; grant usage on all sequences in schema {Schema} to {who}", ct);
        foreach (var (table, policies) in await Tables(connection, ct))
        {
            var name = $"{Schema}.{Quoted(table)}";
            await Do(connection, Grants(table, name, who), ct);
            // Marten walls its documents off by itself; its events it does not.
            const string Mine = $"tenant_id = (select current_setting('{Setting}', true))";
            if (!policies.Contains(MartensPolicy) && !policies.Contains("own_practice"))
            {
                await Do(connection, $"alter table {name} enable row level security; alter table {name} force row level security", ct);
                await Do(connection, $"create policy own_practice on {name} using ({Mine}) with check ({Mine})", ct);
            }

            if (!policies.Contains(keeping))
                await Do(connection, $"create policy {keeping} on {name} to {owner} using (true) with check (true)", ct);
        }
    }

    /// <summary>
    /// What happened is added to and never changed: of events the serving role has reading and adding, and of a stream it writes how far it
    /// is and when that was. Words and letters it never deletes; tables that waited to be entered lie among the files, and those it
    /// does. Whatever else was granted, by an earlier release or by hand, is taken back.
    /// </summary>
    private static string Grants(string table, string name, string who)
    {
        var granted = table switch
        {
            "mt_events" => $"grant select, insert on {name} to {who}",
            "mt_streams" => $"grant select, insert, update (version, timestamp) on {name} to {who}",
            // What somebody wrote goes when they are erased, and that is done by the owner.
            "mt_doc_note" or "mt_doc_comment" or "mt_doc_lettercontent" => $"grant select, insert, update on {name} to {who}",
            _ => $"grant select, insert, update, delete on {name} to {who}",
        };
        return $"revoke all on {name} from {who}; {granted}";
    }

    /// <summary>The tables whose rows are a practice's, and the policies that they have already.</summary>
    private static async Task<List<(string Table, string[] Policies)>> Tables(NpgsqlConnection connection, CancellationToken ct)
    {
        const string Sql = """
            select c.relname::text, array(select p.polname::text from pg_policy p where p.polrelid = c.oid)
            from pg_class c
            join pg_attribute a on a.attrelid = c.oid and a.attname = 'tenant_id' and not a.attisdropped
            where c.relnamespace = $1::regnamespace and c.relkind in ('r', 'p')
            order by 1
            """;
        await using var command = new NpgsqlCommand(Sql, connection) { Parameters = { new() { Value = Schema } } };
        await using var reader = await command.ExecuteReaderAsync(ct);
        var tables = new List<(string, string[])>();
        while (await reader.ReadAsync(ct))
            tables.Add((reader.GetString(0), reader.GetFieldValue<string[]>(1)));
        return tables;
    }

    private static string Closed(NpgsqlConnectionStringBuilder connection)
    {
        connection.Options = string.Join(' ', new[] { connection.Options, $"-c {Setting}=" }.Where(o => !string.IsNullOrEmpty(o)));
        connection.NoResetOnClose = false;
        return connection.ConnectionString;
    }

    /// <summary>PostgreSQL cuts names at 63 bytes.</summary>
    private static string NameOf(string database) => (database.Length > 56 ? database[..56] : database) + "_member";

    internal static string Quoted(string name) => $"\"{name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";

    internal static async Task<object?> Scalar(NpgsqlConnection connection, string sql, CancellationToken ct, params object[] values)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        return await command.ExecuteScalarAsync(ct);
    }

    internal static async Task Do(NpgsqlConnection connection, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(ct);
    }
}
