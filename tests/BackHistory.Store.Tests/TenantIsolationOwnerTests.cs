using BackHistory.History.Horses;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>Tenant isolation on a database of the user's own, whose login is no superuser.</summary>
public sealed class TenantIsolationOwnerTests
{
    private static readonly DateTimeOffset June = new(2026, 6, 3, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task A_owner_that_is_no_superuser_keeps_the_history_and_its_read_models_behind_the_same_wall()
    {
        await using var store = await PracticeStore.Open(await Owner("createrole"));
        await store.Found("mine", June);
        var yard = new TestYard(store, "mine");
        var horse = await yard.Horse(June);
        await yard.Visit(horse, June, 45, 44);
        await store.CatchUp();
        Assert.Single((await store.Horses.Visits("mine", horse, CancellationToken.None))!);
        Assert.Null(await store.Horses.Visits("theirs", horse, CancellationToken.None));
        await using var nobody = store.Members.CreateCommand("select count(*) from history.mt_events");
        Assert.Equal(0L, await nobody.ExecuteScalarAsync());
        // Raised again, as at every start.
        await TenantIsolation.Raise(store.Database, store.MemberConnection, CancellationToken.None);
        await store.Rebuild(nameof(VisitRecord));
        Assert.Single((await store.Horses.Visits("mine", horse, CancellationToken.None))!);
    }

    [Fact]
    public async Task A_owner_that_may_make_no_roles_is_told_what_its_administrator_has_to_run()
    {
        var owner = await Owner("nocreaterole");
        var refused = await Assert.ThrowsAsync<TenantIsolationException>(() => PracticeStore.Open(owner));
        Assert.Contains("create role", refused.Message, StringComparison.Ordinal);
        Assert.Contains("ConnectionStrings__Member", refused.Message, StringComparison.Ordinal);
    }

    /// <summary>A database of a login with these rights.</summary>
    private static async Task<string> Owner(string rights)
    {
        var connection = new NpgsqlConnectionStringBuilder(await TestServer.NewDatabase());
        var name = connection.Database + "_keeper";
        await using (var server = NpgsqlDataSource.Create(connection.ConnectionString))
        {
            await using var make = server.CreateCommand(
                $"create role \"{name}\" login nosuperuser {rights} password 'a password of the test'; alter database "
                    + $"\"{connection.Database}\" owner to \"{name}\""
            );
            await make.ExecuteNonQueryAsync();
        }

        connection.Username = name;
        connection.Password = "a password of the test";
        return connection.ConnectionString;
    }
}
