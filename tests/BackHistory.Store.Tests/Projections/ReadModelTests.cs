using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Store.Horses;
using BackHistory.Store.Rebuilds;
using BackHistory.Testing;
using BackHistory.Trends.SinceFit;
using Npgsql;

namespace BackHistory.Store.Tests.Projections;

public sealed class ReadModelTests : IAsyncLifetime
{
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task Deleting_any_read_model_and_rebuilding_it_gives_the_same_bytes()
    {
        await _store.Found("p", June.AddYears(-1));
        var (horse, _) = await Live();
        await Reminded(horse);
        await _store.CatchUp();
        var models = Rebuilding.Models(_store.Whole);
        Assert.Contains(models, m => m.Name == "Timeline");
        foreach (var (projection, table) in models)
        {
            var live = await Bytes(table);
            // Nothing of these two happens in this history; their deletion and rebuilding is tried all the same.
            if (table is not ("mt_doc_bulletin" or "mt_doc_horsesharing"))
                Assert.True(live.Count > 0, $"{table} is empty: nothing would be tried");
            await Execute($"delete from history.{table}");
            await _store.Rebuild(projection);
            Assert.Equal(live, await Bytes(table));
        }
    }

    [Fact]
    public async Task A_tracing_is_measured_when_it_is_entered_and_not_again_when_the_read_model_follows()
    {
        var (horse, visit) = await Live();
        await _store.CatchUp();

        var record = await _store.Horses.Visit("p", horse, visit, CancellationToken.None);
        Assert.Contains(record!.Entries, e => e.Kind == "cross-section" && e.Measures.Count > 0);
        Assert.Equal(0, _store.Measured.Measured);
    }

    [Fact]
    public async Task An_entry_that_was_corrected_no_longer_stands_and_both_are_shown()
    {
        var (horse, visit) = await Live();
        await _store.CatchUp();

        var record = await _store.Horses.Visit("p", horse, visit, CancellationToken.None);
        var weights = record!.Entries.Where(e => e.Kind == "weight").ToList();
        Assert.Equal(2, weights.Count);
        Assert.False(weights[0].Stands);
        Assert.Equal("Typed one digit too few.", weights[0].Because);
        Assert.Equal(520, Assert.Single(record.Standing(), m => m.Key == "weight").Value);
        var timeline = await _store.Horses.Timeline("p", horse, null, 50, CancellationToken.None);
        Assert.Contains(timeline!, t => t.Kind == "entry_corrected");
    }

    [Fact]
    public async Task A_visit_entered_late_takes_its_place_by_the_day_it_was_true()
    {
        var (horse, _) = await Live();
        var yard = new TestYard(_store, "p2");
        var other = await yard.Horse(June.AddYears(-2), "Late Entry");
        await yard.Visit(other, June, 44, 44);
        await yard.Visit(other, June.AddDays(-300), 46, 46);
        await _store.CatchUp();

        var visits = await _store.Horses.Visits("p2", other, CancellationToken.None);
        Assert.Equal([June.AddDays(-300), June], visits!.Select(v => v.TakenAt));
        Assert.NotEqual(horse, other);
    }

    [Fact]
    public async Task The_measures_of_a_tracing_are_those_of_the_measure_verb()
    {
        var (horse, visit) = await Live();
        await _store.CatchUp();

        var record = await _store.Horses.Visit("p", horse, visit, CancellationToken.None);
        var left = record!.Standing().Single(m => m.Key == "slope-left");
        Assert.Equal(45, left.Value!.Value, 0.2);
        Assert.Equal("behind-shoulder", left.Station);
    }

    [Fact]
    public async Task The_caseload_counts_whoever_is_there_once_and_nobody_who_is_gone()
    {
        await _store.Found("p", June.AddYears(-1));
        var yard = new TestYard(_store, "p");
        var (stays, goes) = (await yard.Horse(June, "Stays"), await yard.Horse(June, "Goes"));
        foreach (var horse in (Guid[])[stays, goes])
            await yard.Visit(horse, June, 45, 45);
        await _store.CatchUp();
        await _store.EvaluationAt(new FixedTime(June.AddDays(1))).Run("p", CancellationToken.None);
        await yard.Horse(June.AddDays(1), "Comes");
        await yard.Do<Horse>(
            goes,
            June.AddDays(1),
            h => HorseDecider.Decide(h, new WithdrawHorse("It was never ours.", Guid.Empty), June.AddDays(1))
        );
        await _store.CatchUp();

        var caseload = new Caseload(new PracticeDatabase(_store.Members));
        var counts = await caseload.Counts("p", CancellationToken.None);
        Assert.Equal((1, 1), (counts.Refit + counts.Unknown + counts.Watch + counts.Steady, counts.NotYet));
        Assert.Equal(new CaseloadCounts(0, 0, 0, 0, 0), await caseload.Counts("another", CancellationToken.None));
        // A filter counts what it lists.
        Assert.Equal(counts, await Among(null));
        Assert.Equal(counts with { NotYet = 0 }, await Among("stay"));
        Assert.Equal(new CaseloadCounts(0, 0, 0, 0, 1), await Among("COMES"));
        Assert.Equal(new CaseloadCounts(0, 0, 0, 0, 0), await Among("goes"));

        Task<CaseloadCounts> Among(string? text) =>
            caseload.Counts("p", new CaseloadFilter([WatchState.Refit], text, null, null, CaseloadOrder.Name), CancellationToken.None);
    }

    private async Task<(Guid Horse, Guid Visit)> Live()
    {
        var yard = new TestYard(_store, "p");
        var horse = await yard.Horse(June.AddDays(-3));
        var wrong = yard.NewEntry();
        var visit = await yard.Visit(
            horse,
            June,
            yard.Section(45, 45),
            new TracingEntry(yard.NewEntry(), Backs.Topline(25)),
            new ConditionEntry(yard.NewEntry(), 5.5),
            new WeightEntry(wrong, 52)
        );
        await yard.Do<Horse>(
            horse,
            June.AddDays(1),
            h =>
                HorseDecider.Decide(
                    h,
                    new CorrectEntry(visit, wrong, new WeightEntry(yard.NewEntry(), 520), "Typed one digit too few.", Guid.Empty),
                    June.AddDays(1)
                )
        );
        var saddle = await yard.Saddle(June);
        await yard.Set(saddle, horse, visit, June.AddDays(1));
        var second = await yard.Visit(horse, June.AddDays(60), 44, 46);
        await yard.Withdraw(horse, second, June.AddDays(61));
        return (horse, visit);
    }

    private async Task Reminded(Guid horse)
    {
        var id = DeterministicId.From("reminder");
        var evidence = Evidence.WithoutMeasure(new DateOnly(2026, 8, 1), 1, new DateOnly(2026, 8, 1), "A check is due.");
        await _store.Commands.Execute<Reminder>(
            PracticeStore.Context("p", "remind", June.AddDays(70)),
            id,
            r =>
                ReminderDecider.Decide(
                    r,
                    new RaiseReminder(
                        id,
                        horse,
                        null,
                        ReminderRule.CheckDue,
                        evidence,
                        [new LetterToWrite(DeterministicId.From("letter"), LetterKind.OwnerCheck, Guid.Empty)],
                        Guid.Empty
                    ),
                    June.AddDays(70)
                ),
            CancellationToken.None
        );
    }

    private async Task<IReadOnlyList<string>> Bytes(string table)
    {
        var rows = new List<string>();
        await using var command = _store.Database.CreateCommand(
            $"select tenant_id || ' ' || id::text || ' ' || data::text from history.{table} order by tenant_id, id"
        );
        await using var reader = await command.ExecuteReaderAsync();
        while (await reader.ReadAsync())
            rows.Add(reader.GetString(0));
        return rows;
    }

    private async Task Execute(string sql)
    {
        await using var command = new NpgsqlCommand(sql, await _store.Database.OpenConnectionAsync());
        await command.ExecuteNonQueryAsync();
        await command.Connection!.DisposeAsync();
    }
}
