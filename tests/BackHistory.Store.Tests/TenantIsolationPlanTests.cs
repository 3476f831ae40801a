using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>Tenant isolation does not cost the indexes: PostgreSQL may not use one unless the comparison gives nothing away.</summary>
public sealed class TenantIsolationPlanTests : IAsyncLifetime
{
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Theory]
    [InlineData("mt_doc_visitrecord", "horse_id")]
    [InlineData("mt_doc_timelineentry", "horse_id")]
    [InlineData("mt_doc_reminder", "horse_id")]
    [InlineData("mt_doc_letter", "reminder_id")]
    public async Task One_horses_rows_among_many_practices_are_found_by_an_index(string table, string column)
    {
        // 40 practices, 100 horses each, 5 rows a horse.
        await Do(
            $"insert into history.{table} (tenant_id, id, data, {column}) select 'p' || (n % 40), gen_random_uuid(), '{{}}', md5((n % "
                + $"4000)::text)::uuid from generate_series(1, 20000) n"
        );
        await Do($"analyze history.{table}");
        await using var connection = await _store.Members.OpenConnectionAsync();
        await using (var name = new NpgsqlCommand("select set_config('backhistory.practice', 'p7', false)", connection))
            await name.ExecuteNonQueryAsync();
        await using var explain = new NpgsqlCommand(
            $"explain (format json) select data from history.{table} where tenant_id = 'p7' and {column} = md5('7')::uuid",
            connection
        );
        var plan = (string)(await explain.ExecuteScalarAsync())!;
        Assert.Contains("Index Cond", plan, StringComparison.Ordinal);
        Assert.Contains($"({column} = ", plan, StringComparison.Ordinal);
        Assert.DoesNotContain("Seq Scan", plan, StringComparison.Ordinal);
    }

    private async Task Do(string sql)
    {
        await using var command = _store.Database.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
