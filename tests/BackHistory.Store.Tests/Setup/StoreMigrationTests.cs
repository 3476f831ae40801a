using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Timeline;
using BackHistory.Testing;
using Marten;
using Npgsql;

namespace BackHistory.Store.Tests.Setup;

/// <summary>A store that the first release wrote, loaded from its own dump.</summary>
public sealed class StoreMigrationTests : IAsyncLifetime
{
    private const string Practice = "invented";
    private string _connection = "";
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync()
    {
        _connection = await TestServer.NewDatabase();
        await using (var database = NpgsqlDataSource.Create(_connection))
        await using (var load = database.CreateCommand(await TestData.Dump(1)))
        {
            await load.ExecuteNonQueryAsync();
        }

        _store = await PracticeStore.Open(_connection);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_store_of_the_first_release_opens_and_its_read_models_are_there()
    {
        var horses = await _store.Horses.ByName(Practice, null, 50, CancellationToken.None);
        Assert.Equal(4, horses.Count);
        Assert.All(horses, h => Assert.NotEmpty(h.Visits));
        Assert.All(horses, h => Assert.Equal(2, h.Work.Count));
        Assert.All(horses.SelectMany(h => h.Work), w => Assert.NotEqual(Guid.Empty, w.WorkId));
        foreach (var horse in horses)
        {
            var timeline = await _store.Horses.Timeline(Practice, horse.Id, null, 200, CancellationToken.None);
            Assert.Contains(timeline!, t => t is { Kind: "work_changed_2", Fact.Values: [{ Word: TimelineWord.WorkModerate }, ..] });
            Assert.Equal(horse.StreamVersion, (await _store.Horses.Load(Practice, horse.Id, CancellationToken.None))!.Version);
        }

        Assert.Single(horses, h => h.Reminders.Count == 1);
    }

    [Fact]
    public async Task Its_people_are_found_by_what_they_are_and_its_letters_by_how_far_they_got()
    {
        await using var session = _store.Store.QuerySession(Practice);
        Assert.Equal(3, (await session.Query<Person>().Where(p => p.Role == PersonRole.Fitter).ToListAsync()).Count);
        Assert.Single(await session.Query<Letter>().Where(l => l.State == LetterState.Sent).ToListAsync());
    }

    [Fact]
    public async Task It_is_written_to_like_any_other_and_opening_it_again_changes_nothing()
    {
        var horse = (await _store.Horses.ByName(Practice, null, 1, CancellationToken.None))[0];
        var before = await Documents();
        var again = await PracticeStore.Open(_connection);
        await again.DisposeAsync();
        Assert.Equal(before, await Documents());

        var now = horse.RecordedAt.AddDays(1);
        var outcome = await _store.Commands.Execute<Horse>(
            PracticeStore.Context(Practice, "new", now),
            horse.Id,
            h => HorseDecider.Decide(h, new ChangeYard(Guid.Empty, now, Guid.Empty), now),
            CancellationToken.None
        );
        Assert.Null(outcome.Refused);
        Assert.Equal(horse.StreamVersion + 1, outcome.Version);
    }

    [Fact]
    public async Task A_store_of_the_second_release_gets_its_timeline_anew_with_facts_for_words()
    {
        const string Timeline = "select string_agg(tenant_id || id || data::text, '' order by id) from history.mt_doc_timelineentry";
        var before = await One(Timeline);
        // As the second release kept it: a sentence where the fact stands now.
        await Execute("update history.mt_doc_timelineentry set data = (data - 'fact') || '{\"says\": \"Work changed.\"}'");
        await Execute("update history.mt_doc_storerelease set data = jsonb_set(data, '{number}', '2')");
        Assert.NotEqual(before, await One(Timeline));

        var again = await PracticeStore.Open(_connection);
        await again.DisposeAsync();

        Assert.Equal(before, await One(Timeline));
        Assert.Equal("4", await One("select data->>'number' from history.mt_doc_storerelease"));
    }

    [Fact]
    public async Task A_store_of_the_third_release_gets_its_saddles_and_horses_anew()
    {
        const string Saddles = "select string_agg(tenant_id || id || data::text, '' order by id) from history.mt_doc_saddle";
        var before = await One(Saddles);
        var horses = await Documents();
        // As if what is folded otherwise today stood there as it was folded before.
        await Execute("update history.mt_doc_saddle set data = data || '{\"notYetSet\": [\"00000000-0000-0000-0000-000000000001\"]}'");
        await Execute("update history.mt_doc_storerelease set data = jsonb_set(data, '{number}', '3')");
        Assert.NotEqual(before, await One(Saddles));

        var again = await PracticeStore.Open(_connection);
        await again.DisposeAsync();

        Assert.Equal(before, await One(Saddles));
        Assert.Equal(horses, await Documents());
        Assert.Equal("4", await One("select data->>'number' from history.mt_doc_storerelease"));
    }

    private async Task<string> One(string sql)
    {
        await using var command = _store.Database.CreateCommand(sql);
        return (string)(await command.ExecuteScalarAsync())!;
    }

    private async Task Execute(string sql)
    {
        await using var command = _store.Database.CreateCommand(sql);
        Assert.NotEqual(0, await command.ExecuteNonQueryAsync());
    }

    private async Task<string> Documents()
    {
        await using var command = _store.Database.CreateCommand(
            "select string_agg(t, '' order by t) from (select tenant_id || id || data::text as t from history.mt_doc_horseprofile union "
                + "all select tenant_id || id || data::text from history.mt_doc_person union all select tenant_id || id || data::text "
                + "from history.mt_doc_visitrecord) x"
        );
        return (string)(await command.ExecuteScalarAsync())!;
    }
}
