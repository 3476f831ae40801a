using System.Diagnostics;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Benchmarks.Service;

/// <summary>
/// The caseload's first page at 300 and at 100 000 horses, over HTTP, one reader: as the API answers it and as the page is rendered. The
/// first 300 are the invented practice, entered through commands and evaluated; the others are copies of their read models with ids,
/// names and due days of their own, made inside PostgreSQL and analysed as autovacuum would have done. Beside it the same JSON from one
/// plain table over an index.
/// </summary>
static class CaseloadBench
{
    private const int Few = 300,
        Many = 100_000,
        Calls = 200,
        PageSize = 51;
    private const string Baseline = "plain Npgsql, the same JSON from one table by index";

    internal static async Task<IReadOnlyList<Figure>> Run()
    {
        await using var bench = await ServedBench.Invented(Few);
        await using var source = NpgsqlDataSource.Create(bench.Database);
        await Evaluated(source);
        var few = await Measure(bench, source, Few);
        await Multiply(source);
        return [.. few, .. await Measure(bench, source, Many)];
    }

    private static async Task<List<Figure>> Measure(ServedBench bench, NpgsqlDataSource source, int horses)
    {
        await Execute(source, "drop table if exists plain_caseload");
        await Execute(
            source,
            """
            create table plain_caseload as
            select a.urgency, a.id, h.data as horse, a.data as assessment
            from history.mt_doc_horseprofile h join history.mt_doc_assessment a using (tenant_id, id)
            """
        );
        await Execute(source, "create index on plain_caseload (urgency, id)");
        await Execute(source, "vacuum analyze");
        var plain = await Percentiles(() => Plain(source));
        using var client = bench.Host.Client(ServedHost.InventedTenant);
        var figures = new List<Figure>();
        foreach (var (what, path) in new[] { ("API answer", "/api/caseload"), ("rendered page", "/") })
        {
            var ours = await Percentiles(() => Get(client, path));
            figures.Add(new($"caseload: first page, {what}, {horses} horses, p50", ours.P50, Baseline, plain.P50, "ms"));
            figures.Add(new($"caseload: first page, {what}, {horses} horses, p95", ours.P95, Baseline, plain.P95, "ms"));
        }

        return figures;
    }

    private static async Task Get(HttpClient client, string path)
    {
        using var response = await client.GetAsync(path);
        var body = await response.Content.ReadAsByteArrayAsync();
        if (!response.IsSuccessStatusCode || body.Length < 1000)
            throw new InvalidOperationException($"{path}: {response.StatusCode}, {body.Length} bytes");
    }

    private static async Task Plain(NpgsqlDataSource source)
    {
        await using var command = source.CreateCommand(
            $"select horse::text, assessment::text from plain_caseload order by urgency, id limit {PageSize}"
        );
        await using var reader = await command.ExecuteReaderAsync();
        var rows = 0;
        while (await reader.ReadAsync())
            rows += reader.GetString(0).Length + reader.GetString(1).Length > 0 ? 1 : 0;
        if (rows != PageSize)
            throw new InvalidOperationException($"{rows} rows");
    }

    private static async Task<(double P50, double P95)> Percentiles(Func<Task> call)
    {
        for (var i = 0; i < Calls / 4; i++)
            await call();
        var times = new double[Calls];
        for (var i = 0; i < Calls; i++)
        {
            var watch = Stopwatch.StartNew();
            await call();
            times[i] = watch.Elapsed.TotalMilliseconds;
        }

        Array.Sort(times);
        return (times[Calls / 2], times[Calls * 95 / 100]);
    }

    /// <summary>Waits until every horse was looked at.</summary>
    private static async Task Evaluated(NpgsqlDataSource source)
    {
        await using var count = source.CreateCommand("select count(*) from history.mt_doc_assessment");
        for (var watch = Stopwatch.StartNew(); (long)(await count.ExecuteScalarAsync())! < Few; await Task.Delay(200))
            if (watch.Elapsed > TimeSpan.FromMinutes(10))
                throw new InvalidOperationException("the horses were not evaluated within ten minutes");
    }

    private static async Task Multiply(NpgsqlDataSource source)
    {
        const string Id = "md5(t.id::text || ':' || g)::uuid";
        const string Name = "t.name || ' ' || g";
        const string Due = "((t.data ->> 'nextCheckDue')::date + hashtext(t.id::text || g) % 200)";
        // First what was found of them, then the horses: a job that comes between finds nobody whom it should look at.
        await Copy(
            source,
            "mt_doc_assessment",
            column =>
                column switch
                {
                    "id" => Id,
                    "urgency" => $"t.rank || ' ' || {Due}",
                    "data" => $"t.data || jsonb_build_object('id', {Id}, 'nextCheckDue', {Due}, 'urgency', t.rank || ' ' || {Due})",
                    _ => $"t.{column}",
                }
        );
        await Copy(
            source,
            "mt_doc_horseprofile",
            column =>
                column switch
                {
                    "id" => Id,
                    "name" => Name,
                    "data" => $"t.data || jsonb_build_object('id', {Id}, 'name', {Name})",
                    _ => $"t.{column}",
                }
        );
    }

    /// <param name="value">What a copy has in a column.</param>
    private static async Task Copy(NpgsqlDataSource source, string table, Func<string, string> value)
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
            from history.{table} t cross join generate_series(1, {(Many + Few - 1) / Few
                - 1}) g where t.tenant_id = '{ServedHost.InventedTenant}'
            """
        );
    }

    private static async Task Execute(NpgsqlDataSource source, string sql)
    {
        await using var command = source.CreateCommand(sql);
        command.CommandTimeout = 0;
        await command.ExecuteNonQueryAsync();
    }
}
