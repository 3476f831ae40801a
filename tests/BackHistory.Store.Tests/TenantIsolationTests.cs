using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Marten;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>The database keeps practices apart by itself, whatever the application forgets.</summary>
public sealed class TenantIsolationTests : IAsyncLifetime
{
    private static readonly DateTimeOffset June = new(2026, 6, 3, 9, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;
    private Guid _mine;
    private Guid _theirs;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _mine = await Fill("mine");
        _theirs = await Fill("theirs");
        await _store.CatchUp();
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_connection_on_which_no_practice_was_named_sees_no_row_of_any()
    {
        var filled = 0;
        foreach (var table in await Walled())
        {
            if (await Count(_store.Database, table) > 0)
                filled++;
            Assert.Equal(0, await Count(_store.Members, table));
        }

        Assert.True(filled >= 9, $"only {filled} tables held anything: the test looks at nothing");
    }

    [Fact]
    public async Task With_the_filter_removed_a_practice_still_sees_only_its_own_horses_and_events()
    {
        await using var session = _store.Store.QuerySession("mine");
        Assert.Equal([_mine], await session.Query<Horse>().Where(h => h.AnyTenant()).Select(h => h.Id).ToListAsync());
        Assert.Equal([_mine], await session.Query<VisitRecord>().Where(v => v.AnyTenant()).Select(v => v.HorseId).ToListAsync());
#pragma warning disable RS0030 // What stands in the way of a forgotten filter is looked at, fillers included.
        var events = await session.Events.QueryAllRawEvents().Where(e => e.AnyTenant()).ToListAsync();
#pragma warning restore RS0030
        Assert.NotEmpty(events);
        Assert.All(events, e => Assert.Equal("mine", e.TenantId));
        Assert.Null(await session.Query<Horse>().Where(h => h.AnyTenant() && h.Id == _theirs).FirstOrDefaultAsync());
    }

    [Fact]
    public async Task Plain_SQL_without_a_filter_sees_one_practice_in_every_table()
    {
        await using var connection = await Named("mine");
        foreach (var table in await Walled())
        {
            await using var command = new NpgsqlCommand(
                $"select count(*) filter (where tenant_id <> 'mine'), count(*) from history.{table}",
                connection
            );
            await using var reader = await command.ExecuteReaderAsync();
            await reader.ReadAsync();
            Assert.Equal(0, reader.GetInt64(0));
        }
    }

    [Fact]
    public async Task Another_practices_rows_can_be_neither_changed_nor_deleted_nor_written()
    {
        await using var connection = await Named("mine");
        var before = await Count(_store.Database, "mt_doc_horse");
        Assert.Equal(0, await Affected(connection, $"update history.mt_doc_horse set data = '{{}}' where id = '{_theirs}'"));
        Assert.Equal(0, await Affected(connection, $"delete from history.mt_doc_horse where id = '{_theirs}'"));
        // Nobody's events are changed, not even one's own.
        var never = await Assert.ThrowsAsync<PostgresException>(() =>
            Affected(connection, $"update history.mt_events set data = '{{}}' where stream_id = '{_theirs}'")
        );
        Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, never.SqlState);
        foreach (var table in (string[])["mt_doc_person", "mt_streams"])
        {
            var id = Guid.Parse("11111111-1111-4111-8111-111111111111");
            var sql =
                table == "mt_streams"
                    ? $"insert into history.mt_streams (id, tenant_id, type, version) values ('{id}', 'theirs', 'horse', 1)"
                    : $"insert into history.{table} (id, tenant_id, data) values ('{id}', 'theirs', '{{}}')";
            var refused = await Assert.ThrowsAsync<PostgresException>(() => Affected(connection, sql));
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
        }

        Assert.Equal(before, await Count(_store.Database, "mt_doc_horse"));
    }

    [Fact]
    public async Task A_row_cannot_be_carried_over_to_another_practice()
    {
        await using var connection = await Named("mine");
        var refused = await Assert.ThrowsAsync<PostgresException>(() =>
            Affected(connection, $"update history.mt_doc_horse set tenant_id = 'theirs' where id = '{_mine}'")
        );
        Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
    }

    [Fact]
    public async Task A_connection_that_went_back_to_the_pool_is_nobodys()
    {
        var connection = new NpgsqlConnectionStringBuilder(_store.MemberConnection) { MaxPoolSize = 1 }.ConnectionString;
        await using var one = NpgsqlDataSource.Create(connection);
        await using (var mine = await one.OpenConnectionAsync())
        {
            await Affected(mine, "select set_config('backhistory.practice', 'mine', false)");
            await using var seen = new NpgsqlCommand("select count(*) from history.mt_events", mine);
            Assert.True((long)(await seen.ExecuteScalarAsync())! > 0);
        }

        Assert.Equal(0, await Count(one, "mt_events"));
    }

    [Fact]
    public async Task Accounts_keys_and_the_list_of_practices_are_out_of_a_practices_reach()
    {
        await using var session = _store.Store.QuerySession("mine");
        foreach (
            var look in (Func<Task>[])
                [
                    () => session.Query<Account>().ToListAsync(),
                    () => session.Query<AccessKey>().ToListAsync(),
                    () => session.Query<KnownPractice>().ToListAsync(),
                ]
        )
        {
            var refused = await Assert.ThrowsAnyAsync<Exception>(look);
            Assert.Equal(
                PostgresErrorCodes.InsufficientPrivilege,
                (refused as PostgresException ?? refused.InnerException as PostgresException)?.SqlState
            );
        }
    }

    [Fact]
    public async Task Every_table_of_a_practices_rows_is_walled_off_and_the_member_may_touch_no_other()
    {
        const string Sql = """
            select c.relname::text, exists (select 1 from pg_attribute a where a.attrelid = c.oid and a.attname = 'tenant_id'),
                   c.relrowsecurity and c.relforcerowsecurity, has_table_privilege($1, c.oid, 'select, insert, update, delete')
            from pg_class c where c.relnamespace = 'history'::regnamespace and c.relkind in ('r', 'p', 'v', 'm')
            """;
        await using var command = _store.Database.CreateCommand(Sql);
        command.Parameters.Add(new NpgsqlParameter { Value = new NpgsqlConnectionStringBuilder(_store.MemberConnection).Username! });
        await using var reader = await command.ExecuteReaderAsync();
        var walled = 0;
        while (await reader.ReadAsync())
        {
            var (table, practices, secured, allowed) = (
                reader.GetString(0),
                reader.GetBoolean(1),
                reader.GetBoolean(2),
                reader.GetBoolean(3)
            );
            Assert.True(
                practices == secured && practices == allowed,
                $"{table}: of a practice {practices}, walled {secured}, allowed {allowed}"
            );
            if (practices)
                walled++;
        }

        Assert.True(walled >= 12, $"only {walled} walled tables");
    }

    /// <summary>Not only the tables that a horse's life fills: each one that has a tenant's column, in whatever schema, with rows of two
    /// practices in it.</summary>
    [Fact]
    public async Task Every_table_with_a_tenant_yields_nothing_to_a_query_without_a_filter()
    {
        var tables = await Tenanted();
        Assert.True(tables.Count >= 15, $"only {tables.Count} tables have a tenant");
        Assert.All(tables, t => Assert.Equal("history", t.Schema));
        foreach (var (schema, table) in tables)
        {
            foreach (var practice in (string[])["mine", "theirs"])
                await Put(schema, table, practice);
        }

        await using var mine = await Named("mine");
        await using var nobody = await _store.Members.OpenConnectionAsync();
        foreach (var (schema, table) in tables)
        {
            await using var all = _store.Database.CreateCommand(
                $"select count(*) filter (where tenant_id = 'mine'), count(*) filter (where tenant_id = 'theirs') from {schema}.{table}"
            );
            await using var there = await all.ExecuteReaderAsync();
            await there.ReadAsync();
            var (own, foreign) = (there.GetInt64(0), there.GetInt64(1));
            Assert.True(own > 0 && foreign > 0, $"{table} holds {own} and {foreign} rows: the test looks at nothing");
            Assert.Equal(0L, await Scalar(nobody, $"select count(*) from {schema}.{table}"));
            Assert.Equal(own, await Scalar(mine, $"select count(*) from {schema}.{table}"));
            Assert.Equal(0L, await Scalar(mine, $"select count(*) from {schema}.{table} where tenant_id <> 'mine'"));
            // From these nobody may delete at all.
            if (table is "mt_events" or "mt_streams" or "mt_doc_note" or "mt_doc_comment" or "mt_doc_lettercontent")
                continue;
            Assert.Equal(0, await Affected(nobody, $"delete from {schema}.{table}"));
            Assert.Equal(0, await Affected(mine, $"delete from {schema}.{table} where tenant_id = 'theirs'"));
        }
    }

    private async Task<List<(string Schema, string Table)>> Tenanted()
    {
        const string Sql = """
            select c.table_schema::text, c.table_name::text from information_schema.columns c
            join information_schema.tables t
              on t.table_schema = c.table_schema and t.table_name = c.table_name and t.table_type = 'BASE TABLE'
            where c.column_name = 'tenant_id' and c.table_schema not in ('pg_catalog', 'information_schema')
            order by c.table_name in ('mt_streams', 'mt_events') desc, c.table_name = 'mt_streams' desc, 1, 2
            """;
        await using var command = _store.Database.CreateCommand(Sql);
        await using var reader = await command.ExecuteReaderAsync();
        var tables = new List<(string, string)>();
        while (await reader.ReadAsync())
            tables.Add((reader.GetString(0), reader.GetString(1)));
        return tables;
    }

    /// <summary>A row of this practice where the table has none, of whatever its columns demand.</summary>
    private async Task Put(string schema, string table, string practice)
    {
        await using (var has = _store.Database.CreateCommand($"select count(*) from {schema}.{table} where tenant_id = '{practice}'"))
        {
            if ((long)(await has.ExecuteScalarAsync())! > 0)
                return;
        }

        const string Columns =
            "select column_name::text, udt_name::text from information_schema.columns where table_schema = $1 and table_name = $2 and "
            + "is_nullable = 'NO' and column_default is null and is_generated = 'NEVER' and is_identity = 'NO' and column_name <> "
            + "'tenant_id'";
        await using var command = _store.Database.CreateCommand(Columns);
        command.Parameters.Add(new NpgsqlParameter { Value = schema });
        command.Parameters.Add(new NpgsqlParameter { Value = table });
        var values = new List<(string Column, string Value)> { ("tenant_id", $"'{practice}'") };
        await using (var reader = await command.ExecuteReaderAsync())
        {
            while (await reader.ReadAsync())
                values.Add((reader.GetString(0), Any(reader.GetString(1), $"{table} of {practice}")));
        }

        await using var put = _store.Database.CreateCommand(
            $"insert into {schema}.{table} ({string.Join(", ", values.Select(v => $"\"{v.Column}\""))}) "
                + $"values ({string.Join(", ", values.Select(v => v.Value))})"
        );
        Assert.Equal(1, await put.ExecuteNonQueryAsync());
    }

    private static string Any(string type, string seed) =>
        type switch
        {
            "uuid" => $"'{DeterministicId.From("a row", seed)}'",
            "jsonb" or "json" => "'{}'",
            "int2" or "int4" or "int8" or "numeric" or "float8" => "1",
            "bool" => "false",
            "bytea" => "'\\x00'",
            "date" or "timestamp" or "timestamptz" => "now()",
            _ => $"'{seed}'",
        };

    private static async Task<long> Scalar(NpgsqlConnection connection, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        return (long)(await command.ExecuteScalarAsync())!;
    }

    [Fact]
    public async Task The_wall_refuses_a_member_that_could_look_over_it()
    {
        var refused = await Assert.ThrowsAsync<TenantIsolationException>(() =>
            TenantIsolation.Raise(_store.Database, TenantIsolation.Closed(_store.OwnerConnection), CancellationToken.None)
        );
        Assert.Contains("ConnectionStrings__Member", refused.Message, StringComparison.Ordinal);
    }

    private async Task<Guid> Fill(string practice)
    {
        await _store.Found(practice, June);
        var yard = new TestYard(_store, practice);
        var horse = await yard.Horse(June);
        var visit = await yard.Visit(horse, June, 45, 44);
        await yard.Set(await yard.Saddle(June), horse, visit, June);
        await using var session = _store.Store.LightweightSession(practice);
        session.Store(new Person(DeterministicId.From("person", practice), $"Owner of {practice}", null, null, null, PersonRole.Owner));
        await session.SaveChangesAsync();
        return horse;
    }

    private async Task<List<string>> Walled()
    {
        await using var command = _store.Database.CreateCommand(
            "select c.relname::text from pg_class c where c.relnamespace = 'history'::regnamespace and c.relrowsecurity"
        );
        await using var reader = await command.ExecuteReaderAsync();
        var tables = new List<string>();
        while (await reader.ReadAsync())
            tables.Add(reader.GetString(0));
        return tables;
    }

    private async Task<NpgsqlConnection> Named(string practice)
    {
        var connection = await _store.Members.OpenConnectionAsync();
        await Affected(connection, $"select set_config('backhistory.practice', '{practice}', false)");
        return connection;
    }

    private static async Task<int> Affected(NpgsqlConnection connection, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteNonQueryAsync();
    }

    private static async Task<long> Count(NpgsqlDataSource database, string table)
    {
        await using var command = database.CreateCommand($"select count(*) from history.{table}");
        return (long)(await command.ExecuteScalarAsync())!;
    }
}
