using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>What happened is added to and never changed: the database itself refuses it to the role as which practices are
/// served.</summary>
public sealed class AppendOnlyTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;
    private Guid _horse;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        await _store.Found(Practice, June);
        _horse = await new TestYard(_store, Practice).Horse(June);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Theory]
    [InlineData("update history.mt_events set data = '{}'")]
    [InlineData("update history.mt_events set timestamp = now()")]
    [InlineData("update history.mt_events set user_name = 'somebody else'")]
    [InlineData("update history.mt_events set is_archived = true")]
    [InlineData("delete from history.mt_events")]
    [InlineData("truncate history.mt_events")]
    [InlineData("delete from history.mt_streams")]
    [InlineData("truncate history.mt_streams cascade")]
    [InlineData("update history.mt_streams set id = gen_random_uuid()")]
    [InlineData("update history.mt_streams set tenant_id = 'theirs'")]
    [InlineData("update history.mt_streams set type = 'saddle'")]
    [InlineData("alter table history.mt_events disable row level security")]
    public Task An_event_cannot_be_changed_or_taken_away_by_the_role_that_serves_practices(string sql) => IsRefused(sql);

    [Theory]
    [InlineData("delete from history.mt_doc_note")]
    [InlineData("delete from history.mt_doc_comment")]
    [InlineData("delete from history.mt_doc_lettercontent")]
    [InlineData("truncate history.mt_doc_note")]
    public Task What_somebody_wrote_is_erased_by_another_role_than_the_one_that_serves_practices(string sql) => IsRefused(sql);

    private async Task IsRefused(string sql)
    {
        await using var connection = await _store.Members.OpenConnectionAsync();
        await using (var whose = new NpgsqlCommand("select set_config('backhistory.practice', $1, false)", connection))
        {
            whose.Parameters.Add(new NpgsqlParameter { Value = Practice });
            await whose.ExecuteScalarAsync();
        }

        await using var attempt = new NpgsqlCommand(sql, connection);
        var refused = await Record.ExceptionAsync(() => attempt.ExecuteNonQueryAsync());

        Assert.True(
            refused is PostgresException { SqlState: PostgresErrorCodes.InsufficientPrivilege },
            $"'{sql}' is answered {refused?.Message ?? "as done"}"
        );
    }

    [Fact]
    public async Task A_store_that_an_earlier_release_left_open_is_closed_when_this_one_starts()
    {
        var member = TenantIsolation.Quoted(new NpgsqlConnectionStringBuilder(_store.MemberConnection).Username!);
        await using (var open = _store.Database.CreateCommand($"grant all on history.mt_events, history.mt_streams to {member}"))
            await open.ExecuteNonQueryAsync();
        await using var again = await PracticeStore.Open(_store.OwnerConnection);

        await IsRefused("delete from history.mt_events");
        // And work goes on.
        await new TestYard(again, Practice).Visit(_horse, June.AddDays(1), new History.Horses.WeightEntry(Guid.CreateVersion7(), 500));
        Assert.Single((await again.Horses.Load(Practice, _horse, CancellationToken.None))!.Visits);
    }
}
