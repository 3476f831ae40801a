using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>The reply to COMMIT is lost on its way: nothing is lost with it, and nothing is done twice.</summary>
public sealed class LostReplyTests : IAsyncLifetime
{
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private LostReplies _between = null!;
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync()
    {
        _between = new LostReplies(await TestServer.NewDatabase());
        _store = await PracticeStore.Open(_between.ConnectionString);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        await _between.DisposeAsync();
    }

    [Fact]
    public async Task A_command_whose_commit_was_not_heard_of_is_done_once_and_answers_as_if_it_had_been()
    {
        var horse = await new TestYard(_store, "p").Horse(June);
        var losing = true;
        _between.Loses = _ => losing && !(losing = false);

        var outcome = await Note(horse, "k");

        Assert.Equal(1, _between.Lost);
        Assert.Null(outcome.Refused);
        Assert.True(outcome.Repeated);
        Assert.Equal(2, outcome.Version);
        Assert.Equal(2, (await _store.Horses.Load("p", horse, CancellationToken.None))!.Version);
    }

    [Fact]
    public async Task Twenty_horses_at_once_with_every_third_reply_lost_have_what_was_said_of_each_once()
    {
        var yard = new TestYard(_store, "p");
        var horses = new List<Guid>();
        for (var i = 0; i < 20; i++)
            horses.Add(await yard.Horse(June, $"Horse {i}"));
        _between.Loses = n => n % 3 == 0;

        var outcomes = await Task.WhenAll(
            horses.SelectMany(h => Enumerable.Range(0, 3).Select(k => Task.Run(() => UntilAnswered(h, $"{h}:{k}"))))
        );

        _between.Loses = _ => false;
        Assert.True(_between.Lost >= 10, $"only {_between.Lost} replies were lost");
        Assert.All(outcomes, o => Assert.Null(o.Refused));
        foreach (var horse in horses)
        {
            var state = (await _store.Horses.Load("p", horse, CancellationToken.None))!;
            Assert.Equal(4, state.Version);
            Assert.Equal(3, state.Noted.Count);
        }
    }

    /// <summary>As a program does that keeps its key: it asks again until it hears an answer.</summary>
    private async Task<Outcome> UntilAnswered(Guid horse, string key)
    {
        for (var i = 0; ; i++)
        {
            try
            {
                var outcome = await Note(horse, key);
                if (outcome.Refused?.Code != "busy" || i == 50)
                    return outcome;
            }
            catch (Exception e) when (e is NpgsqlException or Marten.Exceptions.MartenCommandException && i < 50)
            {
                // The reply was lost as often as the service tries by itself.
            }
        }
    }

    private Task<Outcome> Note(Guid horse, string key) =>
        _store.Commands.Execute<Horse>(
            PracticeStore.Context("p", key, June),
            horse,
            h =>
                HorseDecider.Decide(
                    h,
                    new NoteCare(DeterministicId.Of(key), CareKind.LayOff, new DateOnly(2026, 6, 1), null, Guid.Empty),
                    June
                ),
            CancellationToken.None
        );
}
