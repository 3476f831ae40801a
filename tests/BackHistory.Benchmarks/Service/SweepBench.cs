using System.Diagnostics;
using System.Globalization;
using BackHistory.Store;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Benchmarks.Service;

/// <summary>
/// Evaluating a practice when a twentieth of its horses have changed, against evaluating all of them; and the same work shared by two
/// services on one database. The first horses are entered through commands; the others are copies of their read models with ids of their
/// own, made inside PostgreSQL. <c>BACKHISTORY_BENCH_HORSES</c> says how many there are in all: 100 000 take most of an hour on two
/// cores, so the default is less.
/// </summary>
static class SweepBench
{
    private const string Practice = "bench";
    private const int Entered = 20,
        Default = 5_000,
        Share = 20;
    private static readonly DateTimeOffset Now = new(2026, 6, 1, 9, 0, 0, TimeSpan.Zero);

    private static int Horses =>
        int.TryParse(
            Environment.GetEnvironmentVariable("BACKHISTORY_BENCH_HORSES"),
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out var n
        )
            ? Math.Max(Entered, n)
            : Default;

    internal static async Task<IReadOnlyList<Figure>> Run()
    {
        var folder = Directory.CreateTempSubdirectory("backhistory-bench-");
        // PostgreSQL does not run as root; the user that it then runs as must be let through.
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(folder.FullName, folder.UnixFileMode | UnixFileMode.OtherExecute | UnixFileMode.GroupExecute);
        var postgres = await PrivatePostgres.Start(Path.Combine(folder.FullName, "postgres"), durable: true, CancellationToken.None);
        try
        {
            return await Run(await postgres.ConnectionString("bench", CancellationToken.None));
        }
        finally
        {
            await postgres.DisposeAsync();
            folder.Delete(recursive: true);
        }
    }

    private static async Task<IReadOnlyList<Figure>> Run(string database)
    {
        await using var store = await PracticeStore.Open(database);
        await store.Found(Practice, Now.AddYears(-3));
        await Enter(store);
        await store.CatchUp();
        await Multiply(store.Database);
        // Until nothing moves any more: what the first evaluation raises touches its horses once more.
        while (await Evaluate(store) > 0)
            await store.CatchUp();

        var none = await Timed(() => Evaluate(store), 0);
        await Touch(store.Database, every: 1);
        var all = await Timed(() => Evaluate(store), Horses);
        var changed = await Touch(store.Database, every: Share);
        var some = await Timed(() => Evaluate(store), changed);
        await using var second = await PracticeStore.Open(database);
        await Touch(store.Database, every: 1);
        var parts = (One: 0, Two: 0);
        var shared = await Timed(
            async () =>
            {
                var both = await Task.WhenAll(Evaluate(store), Evaluate(second));
                parts = (both[0], both[1]);
                return both.Sum();
            },
            Horses
        );
        await Console.Error.WriteLineAsync(FormattableString.Invariant($"shared: {parts.One} and {parts.Two} horses"));
        return
        [
            new(
                FormattableString.Invariant($"sweep: {Horses} horses, {changed} of them changed"),
                some,
                "evaluating all of them",
                all,
                "s"
            ),
            new(FormattableString.Invariant($"sweep: {Horses} horses, none changed"), none, "evaluating all of them", all, "s"),
            new(
                FormattableString.Invariant($"sweep: {Horses} horses, all changed, shared by two services"),
                shared,
                "one service",
                all,
                "s"
            ),
        ];
    }

    private static Task<int> Evaluate(PracticeStore store) => store.EvaluationAt(new FixedTime(Now)).Run(Practice, CancellationToken.None);

    /// <exception cref="InvalidOperationException">Somebody was missed, or looked at twice.</exception>
    private static async Task<double> Timed(Func<Task<int>> run, int expected)
    {
        var watch = Stopwatch.StartNew();
        var looked = await run();
        var seconds = watch.Elapsed.TotalSeconds;
        return looked == expected ? seconds : throw new InvalidOperationException($"{looked} horses were looked at instead of {expected}");
    }

    /// <summary>Horses with six visits of two stations and a saddle set at the third; one in ten has opened since.</summary>
    private static async Task Enter(PracticeStore store)
    {
        var yard = new TestYard(store, Practice);
        for (var h = 0; h < Entered; h++)
        {
            var random = new Random(h);
            var horse = await yard.Horse(Now.AddDays(-800), $"Horse {h}");
            var saddle = await yard.Saddle(Now.AddDays(-400), $"Saddle {h}");
            var (slope, opened) = (40 + 6 * random.NextDouble(), h % 10 == 0);
            for (var v = 0; v < 6; v++)
            {
                var at = Now.AddDays(-360 + 70 * v);
                double Slope(double steeper) => slope + steeper - (opened && v > 3 ? 12 : 0) + random.NextDouble() - 0.5;
                var visit = await yard.Visit(horse, at, yard.Section(Slope(0), Slope(1)), yard.Section(Slope(-6), Slope(-5), "mid-back"));
                if (v == 2)
                    await yard.Set(saddle, horse, visit, at.AddHours(1));
            }
        }
    }

    private static async Task Multiply(NpgsqlDataSource source)
    {
        var copies = (Horses + Entered - 1) / Entered - 1;
        string Anew(string id) => $"md5({id}::text || ':' || g)::uuid";
        await Copy(
            source,
            "mt_doc_horseprofile",
            copies,
            column =>
                column switch
                {
                    "id" => Anew("t.id"),
                    "data" => $"t.data || jsonb_build_object('id', {Anew("t.id")})",
                    _ => $"t.{column}",
                }
        );
        var horse = Anew("(t.data ->> 'horseId')");
        await Copy(
            source,
            "mt_doc_visitrecord",
            copies,
            column =>
                column switch
                {
                    "id" => Anew("t.id"),
                    "horse_id" => horse,
                    "data" => $"t.data || jsonb_build_object('id', {Anew("t.id")}, 'horseId', {horse})",
                    _ => $"t.{column}",
                }
        );
        await Execute(
            source,
            $"delete from history.mt_doc_horseprofile where id in (select id from history.mt_doc_horseprofile order by id offset {Horses})"
        );
        await Execute(source, "vacuum analyze");
    }

    /// <param name="value">What a copy has in a column.</param>
    private static async Task Copy(NpgsqlDataSource source, string table, int copies, Func<string, string> value)
    {
        var columns = new List<string>();
        await using (
            var ask = source.CreateCommand(
                $"select column_name from information_schema.columns where table_schema = 'history' and table_name = '{table}' and "
                    + $"is_generated = 'NEVER'"
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
            from history.{table} t cross join generate_series(1, {copies}) g where t.tenant_id = '{Practice}'
            """
        );
    }

    /// <summary>As after an event that the assessment does not know yet.</summary>
    private static Task<int> Touch(NpgsqlDataSource source, int every) =>
        Execute(source, $"update history.mt_doc_assessment set based_on = -1 where abs(hashtext(id::text)) % {every} = 0");

    private static async Task<int> Execute(NpgsqlDataSource source, string sql)
    {
        await using var command = source.CreateCommand(sql);
        command.CommandTimeout = 0;
        return await command.ExecuteNonQueryAsync();
    }
}
