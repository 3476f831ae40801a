using BackHistory.Application.Horses;
using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>A letter is owed to whoever the horse belongs to at that moment, whether the read models have heard of it or not.</summary>
public sealed class FirstReaderTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Theory]
    [InlineData("arrange")]
    [InlineData("write again")]
    [InlineData("call off")]
    public async Task Whoever_bought_the_horse_a_moment_ago_is_written_to_and_not_whoever_sold_it(string act)
    {
        var practice = await acts.Found($"sold and {act}");
        var (sold, bought) = (await practice.Person("Sold", PersonRole.Owner), await practice.Person("Bought", PersonRole.Owner));
        var (reminder, first) = await practice.NeverMeasured("Bramble", sold, acts.Time.Now);
        if (act == "call off")
            await Do("arrange", tell: false);
        await acts.Store.CatchUp();
        var horse = (await practice.Reminder(reminder)).HorseId;
        var change = await acts.Get<ChangeOwnerOfHorse>().Do(new(horse, bought, null), practice.By(PracticeRole.Fitter), default);
        Assert.Null(change.Refused);

        await Do(act, tell: true);

        var letters = (await practice.Reminder(reminder)).Post.Where(l => l.LetterId != first);
        Assert.Equal(bought, Assert.Single(letters).To);

        async Task Do(string what, bool tell)
        {
            var by = practice.By(PracticeRole.Fitter);
            var done = what switch
            {
                "arrange" => await acts.Get<ArrangeVisit>()
                    .Do(new(reminder, practice.Id("booking"), acts.Time.Now.AddDays(3), null, tell), by, default),
                "call off" => await acts.Get<CallOffVisit>().Do(new(reminder, "Snow.", tell), by, default),
                _ => await acts.Get<WriteAgain>().Do(new(reminder), by, default),
            };
            Assert.Null(done.Refused);
        }
    }

    [Fact]
    public async Task Of_a_horse_without_an_owner_the_first_manager_is_written_to_and_one_who_is_none_any_more_is_not()
    {
        var practice = await acts.Found("nobody's horse");
        var managers = new[] { await practice.Person("One", PersonRole.Manager), await practice.Person("Two", PersonRole.Manager) }
            .Order()
            .ToArray();
        var (reminder, first) = await practice.NeverMeasured("Bramble", managers[1], acts.Time.Now);
        var horse = (await practice.Reminder(reminder)).HorseId;
        var by = practice.By(PracticeRole.Fitter);
        Assert.Null((await acts.Get<ChangeOwnerOfHorse>().Do(new(horse, null, null), by, default)).Refused);

        // Pages say beforehand to whom it will go.
        await acts.Store.CatchUp();
        var (reader, about) = (acts.Get<FirstReader>(), await practice.Reminder(reminder));
        Assert.Equal(managers[0], (await reader.OfVisit(practice.Name, horse, default))?.Id);
        Assert.Equal(managers[0], (await reader.OfFindings(practice.Name, [(about, null)], default))[reminder].Id);

        Assert.Null((await acts.Get<WriteAgain>().Do(new(reminder), practice.By(PracticeRole.Fitter), default)).Refused);

        Assert.Equal(managers[0], Assert.Single((await practice.Reminder(reminder)).Post, l => l.LetterId != first).To);
    }
}
