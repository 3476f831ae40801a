using System.Diagnostics;
using BackHistory.Benchmarks.Service;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Benchmarks.History;

/// <summary>
/// A horse's page and its timeline over HTTP, one reader, when the store holds many events of 200 practices: the invented practice and
/// copies of its timeline and profiles under other names. Beside it the same rows from one plain table over an index.
/// <c>events=1000000</c> for a million.
/// </summary>
static class TimelineBench
{
    private const int Horses = 40,
        Practices = 200,
        Calls = 300;
    private const string Baseline = "plain Npgsql, the same JSON from one table by index";

    internal static async Task<IReadOnlyList<Figure>> Run(int events)
    {
        await using var bench = await ServedBench.Invented(Horses);
        await using var source = NpgsqlDataSource.Create(bench.Database);
        await Multiply(source, events);
        await Execute(
            source,
            "create table plain_timeline as select tenant_id, horse_id, (data ->> 'takenAt')::timestamptz as at, data from "
                + "history.mt_doc_timelineentry"
        );
        await Execute(source, "create index on plain_timeline (tenant_id, horse_id, at desc)");
        await Execute(source, "vacuum analyze");
        await Demand(source);

        var horses = await Ids(source);
        using var client = bench.Host.Client(ServedHost.InventedTenant);
        var held = await Scalar(source, "select count(*) from history.mt_doc_timelineentry");
        var plain = await P99(horses, h => Plain(source, h));
        var timeline = await P99(horses, h => Get(client, $"/api/horses/{h}/timeline"));
        var page = await P99(horses, h => Get(client, $"/horses/{h}"));
        return
        [
            new($"timeline: API answer, {held} events of {Practices} practices, p99", timeline, Baseline, plain, "ms"),
            new($"timeline: a horse's rendered page, {held} events of {Practices} practices, p99", page, Baseline, plain, "ms"),
        ];
    }

    /// <summary>The plan behind the page must not read other horses' rows: a figure from a scan would be worth nothing tomorrow.</summary>
    private static async Task Demand(NpgsqlDataSource source)
    {
        var horse = (await Ids(source))[0];
        await using var explain = source.CreateCommand(
            $"explain select data from history.mt_doc_timelineentry where tenant_id = '{ServedHost.InventedTenant}' and horse_id = "
                + $"'{horse}' order by (data ->> 'takenAt') desc limit 50"
        );
        await using var reader = await explain.ExecuteReaderAsync();
        var plan = new List<string>();
        while (await reader.ReadAsync())
            plan.Add(reader.GetString(0));
        var text = string.Join('\n', plan);
        if (text.Contains("Seq Scan", StringComparison.Ordinal) || !text.Contains("Index", StringComparison.Ordinal))
            throw new InvalidOperationException($"the timeline is read without its index:\n{text}");
    }

    private static async Task Multiply(NpgsqlDataSource source, int events)
    {
        var own = await Scalar(source, "select count(*) from history.mt_doc_timelineentry");
        var copies = Math.Max(1, (int)Math.Ceiling(events / (double)own / (Practices - 1)));
        // Each further practice holds the same horses as often as it takes to reach the number.
        await Copy(
            source,
            "mt_doc_timelineentry",
            copies,
            column =>
                column switch
                {
                    "tenant_id" => "'copy-' || p",
                    "id" => "md5(t.id::text || ':' || p || ':' || g)::uuid",
                    "horse_id" => "md5(t.horse_id::text || ':' || p || ':' || g)::uuid",
                    _ => $"t.{column}",
                }
        );
    }

    private static async Task Copy(NpgsqlDataSource source, string table, int copies, Func<string, string> value)
    {
        var columns = new List<string>();
        await using (
            var ask = source.CreateCommand(
                $"select column_name from information_schema.columns where table_schema = 'history' and table_name = '{table}'"
            )
        )
        await using (var reader = await ask.ExecuteReaderAsync())
            while (await reader.ReadAsync())
                columns.Add(reader.GetString(0));
        await Execute(
            source,
            $"""
            insert into history.{table} ({string.Join(", ", columns)})
            select {string.Join(", ", columns.Select(value))}
            from history.{table} t cross join generate_series(1, {Practices
                - 1}) p cross join generate_series(1, {copies}) g where t.tenant_id = '{ServedHost.InventedTenant}'
            """
        );
    }

    private static async Task<IReadOnlyList<Guid>> Ids(NpgsqlDataSource source)
    {
        await using var command = source.CreateCommand(
            $"select id from history.mt_doc_horseprofile where tenant_id = '{ServedHost.InventedTenant}' order by id"
        );
        await using var reader = await command.ExecuteReaderAsync();
        var ids = new List<Guid>();
        while (await reader.ReadAsync())
            ids.Add(reader.GetGuid(0));
        return ids;
    }

    private static async Task Plain(NpgsqlDataSource source, Guid horse)
    {
        await using var command = source.CreateCommand(
            "select data::text from plain_timeline where tenant_id = $1 and horse_id = $2 order by at desc limit 51"
        );
        command.Parameters.Add(new() { Value = ServedHost.InventedTenant });
        command.Parameters.Add(new() { Value = horse });
        await using var reader = await command.ExecuteReaderAsync();
        var rows = 0;
        while (await reader.ReadAsync())
            rows += reader.GetString(0).Length > 0 ? 1 : 0;
        if (rows == 0)
            throw new InvalidOperationException("no rows");
    }

    private static async Task Get(HttpClient client, string path)
    {
        using var response = await client.GetAsync(path);
        var body = await response.Content.ReadAsByteArrayAsync();
        if (!response.IsSuccessStatusCode || body.Length < 1000)
            throw new InvalidOperationException($"{path}: {response.StatusCode}, {body.Length} bytes");
    }

    private static async Task<double> P99(IReadOnlyList<Guid> horses, Func<Guid, Task> call)
    {
        for (var i = 0; i < Calls / 4; i++)
            await call(horses[i % horses.Count]);
        var times = new double[Calls];
        for (var i = 0; i < Calls; i++)
        {
            var watch = Stopwatch.StartNew();
            await call(horses[i % horses.Count]);
            times[i] = watch.Elapsed.TotalMilliseconds;
        }

        Array.Sort(times);
        return times[Calls * 99 / 100];
    }

    private static async Task<long> Scalar(NpgsqlDataSource source, string sql)
    {
        await using var command = source.CreateCommand(sql);
        command.CommandTimeout = 0;
        return (long)(await command.ExecuteScalarAsync())!;
    }

    private static async Task Execute(NpgsqlDataSource source, string sql)
    {
        await using var command = source.CreateCommand(sql);
        command.CommandTimeout = 0;
        await command.ExecuteNonQueryAsync();
    }
}
