using BackHistory.Store.Archives;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests.Archives;

/// <summary>A backup that was put back is another store, though it holds the same rows.</summary>
public sealed class StoreIdentityTests
{
    [Fact]
    public async Task A_store_is_the_same_after_a_restart_and_another_one_where_its_rows_were_put_back()
    {
        var connection = await TestServer.NewDatabase();
        string first;
        await using (var store = await PracticeStore.Open(connection))
        {
            first = await store.Get<StoreIdentity>().Current(default);
            Assert.Matches("^[0-9a-f]{12}$", first);
        }

        await using (var again = await PracticeStore.Open(connection))
            Assert.Equal(first, await again.Get<StoreIdentity>().Current(default));
        await using (var other = await PracticeStore.Open())
            Assert.NotEqual(first, await other.Get<StoreIdentity>().Current(default));

        NpgsqlConnection.ClearAllPools();
        // The whole database, copied beside it.
        var name = new NpgsqlConnectionStringBuilder(connection).Database!;
        var copy = new NpgsqlConnectionStringBuilder(connection) { Database = $"{name}_copy" }.ConnectionString;
        await Do(
            new NpgsqlConnectionStringBuilder(connection) { Database = "postgres" }.ConnectionString,
            $"create database \"{name}_copy\" template \"{name}\""
        );
        await using (var copied = await PracticeStore.Open(copy))
            Assert.NotEqual(first, await copied.Get<StoreIdentity>().Current(default));

        // The events put back in place, as a dump does it: the table is made anew and filled.
        await Do(
            connection,
            """
            create table history.put_back (like history.mt_events including all);
            insert into history.put_back select * from history.mt_events;
            alter table history.mt_events rename to mt_events_before;
            alter table history.put_back rename to mt_events;
            """
        );
        await using var owner = NpgsqlDataSource.Create(connection);
        Assert.NotEqual(first, await new StoreIdentity(owner).Current(default));
    }

    private static async Task Do(string connection, string sql)
    {
        await using var database = NpgsqlDataSource.Create(connection);
        await using var command = database.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
