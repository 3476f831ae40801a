using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Audit;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests.Reminders;

/// <summary>Times of 100 ns, which PostgreSQL does not keep: as an earlier release wrote them, and as clocks show them.</summary>
public sealed class OddTickTests : IAsyncLifetime
{
    private const string Practice = "p";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public void A_clock_shows_microseconds_and_never_the_future()
    {
        var clock = new MicrosecondClock(new FixedTime(June.AddTicks(1_234_569)));
        Assert.Equal(June.AddTicks(1_234_560), clock.GetUtcNow());
    }

    [Fact]
    public async Task A_written_time_is_read_as_the_database_reads_it_at_every_odd_tick()
    {
        await using var command = _store.Database.CreateCommand(
            "select t::timestamptz from unnest($1::text[]) with ordinality u(t, n) order by n"
        );
        var random = new Random(20261129);
        DateTimeOffset[] times =
        [
            .. Enumerable.Range(0, 20_000).Select(_ => June.AddTicks(random.NextInt64(0, TimeSpan.TicksPerDay) / 5 * 5)),
            June.AddTicks(9_999_995),
            June.AddTicks(5),
            June.AddTicks(15),
        ];
        command.Parameters.Add(
            new NpgsqlParameter { Value = times.Select(t => t.ToString("O", System.Globalization.CultureInfo.InvariantCulture)).ToArray() }
        );
        await using var reader = await command.ExecuteReaderAsync();
        foreach (var time in times)
        {
            Assert.True(await reader.ReadAsync());
            Assert.Equal(reader.GetFieldValue<DateTimeOffset>(0), Microseconds.AsRead(time));
        }
    }

    [Fact]
    public void The_last_moment_there_is_can_be_read() =>
        Assert.Equal(Microseconds.Cut(DateTimeOffset.MaxValue), Microseconds.AsRead(DateTimeOffset.MaxValue));

    [Fact]
    public async Task Reminders_are_met_once_each_page_by_page()
    {
        await _store.Found(Practice, June.AddYears(-1));
        var raised = new List<Guid>();
        for (var i = 0; i < 30; i++)
        {
            var (id, at) = (DeterministicId.Of("reminder", $"{i}"), June.AddTicks(i * 3));
            var evidence = Evidence.WithoutMeasure(new DateOnly(2026, 6, 12), 1, null, "A check is due.");
            await _store.Commands.Execute<Reminder>(
                PracticeStore.Context(Practice, $"raise {i}", at),
                id,
                r =>
                    ReminderDecider.Decide(
                        r,
                        new RaiseReminder(id, DeterministicId.Of("horse", $"{i}"), null, ReminderRule.CheckDue, evidence, [], Guid.Empty),
                        at
                    ),
                CancellationToken.None
            );
            raised.Add(id);
        }

        Assert.Equal(
            raised.Order(),
            (
                await Pages(place => _store.Reminders.Newest(Practice, [], null, place, 1, CancellationToken.None), r => (r.RaisedAt, r.Id))
            ).Order()
        );
    }

    [Fact]
    public async Task Notes_of_the_audit_are_met_once_each_page_by_page()
    {
        var book = new AuditBook(_store.Store);
        var noted = new List<Guid>();
        for (var i = 0; i < 30; i++)
        {
            var note = new AuditNote(DeterministicId.Of("note", $"{i}"), June.AddTicks(i * 3), AuditWords.Saw, null, null);
            await book.Note(Practice, note, CancellationToken.None);
            noted.Add(note.Id);
        }

        Assert.Equal(
            noted.Order(),
            (await Pages(place => book.Notes(Practice, null, place, 1, CancellationToken.None), n => (n.At, n.Id))).Order()
        );
    }

    /// <summary>Goes from page to page by the last row's place, as the interface does; a page that comes again would come for
    /// ever.</summary>
    private static async Task<List<Guid>> Pages<T>(
        Func<(DateTimeOffset At, Guid Id)?, Task<IReadOnlyList<T>>> page,
        Func<T, (DateTimeOffset At, Guid Id)> placeOf
    )
    {
        var met = new List<Guid>();
        for ((DateTimeOffset At, Guid Id)? place = null; await page(place) is { Count: > 0 } rows; place = placeOf(rows[^1]))
        {
            met.AddRange(rows.Select(r => placeOf(r).Id));
            Assert.True(met.Count < 1000, "the pages have no end");
        }

        return met;
    }
}
