using Npgsql;

namespace BackHistory.Store.Erasing;

/// <summary>Looks for names in every row of every table: what an erasure is held to.</summary>
public sealed class NameSearch(PracticeDatabase database)
{
    /// <summary>Where any of a person's names stands as whole words, in everything that this practice sees.</summary>
    public async Task<IReadOnlyList<FoundIn>> In(string practice, NameWords names, CancellationToken ct)
    {
        if (names.Names.Count == 0)
            return [];
        await using var connection = await database.Open(practice, ct);
        // Bytes show as the text that is in them, so that its words can be told apart; the setting goes with the connection.
        await TenantIsolation.Do(connection, "set bytea_output = 'escape'", ct);
        return await Count(connection, "t::text ~* $1", names.ForPostgres, ct);
    }

    /// <summary>In every table that the connection may read, whole rows as text, whatever their columns are called; bytes too, and inside
    /// words.</summary>
    public static Task<IReadOnlyList<FoundIn>> Everywhere(NpgsqlConnection connection, string name, CancellationToken ct) =>
        // Bytes show as hexadecimal digits, so the name is looked for in those too.
        Count(
            connection,
            "position(lower($1) in lower(t::text)) > 0 or position(encode(convert_to($1, 'UTF8'), 'hex') in t::text) > 0",
            name,
            ct
        );

    private static async Task<IReadOnlyList<FoundIn>> Count(NpgsqlConnection connection, string where, string value, CancellationToken ct)
    {
        const string Tables = """
            select format('%I.%I', n.nspname, c.relname)
            from pg_class c join pg_namespace n on n.oid = c.relnamespace
            where c.relkind in ('r', 'p', 'm') and n.nspname not in ('pg_catalog', 'information_schema')
              and n.nspname not like 'pg_toast%' and n.nspname not like 'pg_temp%'
              and has_schema_privilege(n.oid, 'usage') and has_table_privilege(c.oid, 'select')
            order by 1
            """;
        var tables = new List<string>();
        await using (var ask = new NpgsqlCommand(Tables, connection))
        await using (var reader = await ask.ExecuteReaderAsync(ct))
            while (await reader.ReadAsync(ct))
                tables.Add(reader.GetString(0));

        var found = new List<FoundIn>();
        foreach (var table in tables)
        {
            await using var count = new NpgsqlCommand($"select count(*) from {table} t where {where}", connection) { CommandTimeout = 0 };
            count.Parameters.Add(new NpgsqlParameter { Value = value });
            if ((long)(await count.ExecuteScalarAsync(ct))! is > 0 and var rows)
                found.Add(new FoundIn(table, rows));
        }

        return found;
    }
}
