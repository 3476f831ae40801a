using BackHistory.Application.Horses;
using BackHistory.Application.Saddles;
using BackHistory.Application.Sharing;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Store.Accounts;
using Npgsql;

namespace BackHistory.Application.Tests.Saddles;

/// <summary>
/// What is said of a horse in another stream rests on the horse as it stands when it is saved: an act that is held up between looking and
/// saving, while the horse is withdrawn or merged, puts nothing on a horse that is gone.
/// </summary>
public sealed class SaddleOnHorseTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Theory]
    [InlineData("set")]
    [InlineData("correct")]
    [InlineData("move")]
    [InlineData("pad")]
    [InlineData("trial")]
    [InlineData("grant")]
    [InlineData("link")]
    public async Task Nothing_is_put_on_a_horse_that_was_withdrawn_while_the_act_was_at_it(string what)
    {
        var (practice, horse, act, stream) = await Arranged(what, "withdrawn");
        await using var held = await Hold(stream);
        var put = act();
        await Waiting(1, put);
        var withdrawn = acts.Get<WithdrawHorseRegistration>().Do(new(horse, "By mistake."), practice.By(PracticeRole.Manager), default);
        await Waiting(2, withdrawn);
        var gone = withdrawn.IsCompleted;
        await held.DisposeAsync();

        var (outcome, withdrawal) = (await put, await withdrawn);
        Assert.Null(withdrawal.Refused);
        Assert.False(gone && outcome.Refused is null, $"'{what}' was taken of a horse that had been withdrawn");
        Assert.True(outcome.Refused is null, $"'{what}' came first and was refused: {outcome.Refused?.Code}");
        // And who comes after it is told.
        Assert.NotNull((await act()).Refused);
    }

    [Theory]
    [InlineData("set")]
    [InlineData("correct")]
    [InlineData("move")]
    [InlineData("pad")]
    [InlineData("trial")]
    public async Task What_is_put_on_a_second_registration_while_it_is_merged_follows_at_once(string what)
    {
        var (practice, horse, act, stream) = await Arranged(what, "merged");
        var stays = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Stays");
        await using var held = await Hold(stream);
        var put = act();
        await Waiting(1, put);
        var merged = acts.Get<MergeHorseRegistrations>().Do(new(horse, stays, "One horse."), practice.By(PracticeRole.Manager), default);
        await Waiting(2, merged);
        await held.DisposeAsync();

        Assert.Null((await put).Refused);
        Assert.Null((await merged).Refused);
        var saddle = (await acts.Store.Saddles.Load(practice.Name, stream, default))!;
        Assert.False(saddle.StandsOn(horse), $"what was put on it by '{what}' was left behind");
        Assert.True(saddle.StandsOn(stays));
    }

    private async Task<(TestPractice Practice, Guid Horse, Func<Task<Outcome>> Act, Guid Stream)> Arranged(string what, string then)
    {
        var practice = await acts.Found($"{what} {then}");
        var (at, n) = (acts.Time.Now.AddDays(-9), 0);
        var (horse, other) = (await practice.Yard.Horse(at), await practice.Yard.Horse(at, "Other"));
        var saddle = await practice.Yard.Saddle(at);
        var work = await practice.Yard.Set(saddle, other, null, at);
        var vet = await practice.Person("Vet", PersonRole.Veterinarian);
        if (what is "grant" or "link")
            Assert.Null((await Share("first")).Refused);
        Func<Task<Outcome>> act = what switch
        {
            "set" => () => acts.Get<EnterSaddleWork>().Do(new(saddle, Done(practice.Id($"work {++n}"))), By(), default),
            "correct" => async () =>
            {
                var last = (await acts.Store.Saddles.Load(practice.Name, saddle, default))!.Work.Last(w => !w.Withdrawn).WorkId;
                return await acts.Get<CorrectSaddleWork>().Do(new(saddle, last, Done(practice.Id($"work {++n}")), "Slip."), By(), default);
            },
            "move" => () => acts.Get<MoveSaddleToHorse>().Do(new(saddle, other, horse, "Sold.", null), By(), default),
            "pad" => () => acts.Get<FitSaddlePad>().Do(new(saddle, practice.Id($"pad {++n}"), horse, "Felt", [], null), By(), default),
            "trial" => () => acts.Get<BeginSaddleTrial>().Do(new(saddle, practice.Id($"trial {++n}"), horse, null, null), By(), default),
            "grant" => () => Share($"grant {++n}"),
            _ => () => acts.Get<ShareHorseByLink>().Do(new(horse, practice.Id($"link {++n}"), vet, SharedWith.Veterinarian), By(), default),
        };
        return (practice, horse, act, what is "grant" or "link" ? HorseSharing.IdOf(horse) : saddle);

        Caller By() => practice.By(PracticeRole.Manager);
        WorkDone Done(Guid id) => new(id, horse, null, true, false, [], acts.Time.Now, null, null, OnBoth: true);
        async Task<Outcome> Share(string grant)
        {
            var with = new Recipient.Known(await practice.Person(grant, PersonRole.Veterinarian));
            return await acts.Get<ShareHorse>().Do(new(horse, practice.Id(grant), with, SharedWith.Veterinarian), By(), default);
        }
    }

    /// <summary>Somebody else is about to write to this stream, until they let go.</summary>
    private async Task<NpgsqlConnection> Hold(Guid stream)
    {
        var connection = await acts.Store.Database.OpenConnectionAsync();
        await using var hold = new NpgsqlCommand($"begin; select 1 from history.mt_streams where id = '{stream}' for update", connection);
        Assert.Equal(1, await hold.ExecuteScalarAsync());
        return connection;
    }

    /// <summary>Until so many wait for somebody's row, or the act is done without.</summary>
    private async Task Waiting(int count, Task act)
    {
        while (!act.IsCompleted)
        {
            await using var ask = acts.Store.Database.CreateCommand(
                "select count(*) from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'"
            );
            if ((long)(await ask.ExecuteScalarAsync())! >= count)
                return;
            await Task.Delay(10);
        }
    }
}
