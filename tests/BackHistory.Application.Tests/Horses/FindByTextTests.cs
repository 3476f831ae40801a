using BackHistory.Application.Horses;
using BackHistory.Application.People;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Reminders.Lists;

namespace BackHistory.Application.Tests.Horses;

/// <summary>The search in the head, the caseload and the list of reminders find a horse by the same words: its own, its owner's, its
/// yard's.</summary>
public sealed class FindByTextTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Theory]
    [InlineData("ambl", true)]
    [InlineData("276 0981", true)]
    [InlineData("olga ex", true)]
    [InlineData("olga@mail", true)]
    [InlineData("0170/1234", true)]
    [InlineData("+49 (170) 123-4567", true)]
    [InlineData("far hill", true)]
    [InlineData("Lower Marsh", true)]
    [InlineData("%", false)]
    [InlineData("0171", false)]
    [InlineData("nobody", false)]
    public async Task A_horse_is_found_by_what_it_its_owner_and_its_yard_are_called_and_how_they_are_reached(string typed, bool found)
    {
        var practice = await acts.Found("find " + typed);
        var (horse, owner, yard) = (practice.Id("horse"), practice.Id("owner"), practice.Id("yard"));
        var entered = await acts.Get<EnterHorse>()
            .Do(
                new(horse, new HorseDetails("Bramble", null, null, null, null, null), owner, yard)
                {
                    NewOwner = new PersonDetails(
                        "Olga Example",
                        "olga@mail.invalid",
                        "+49 170 1234567",
                        null,
                        PersonRole.Owner,
                        null,
                        null
                    ),
                    NewYard = new YardDetails("Far Hill", "Lower Marsh"),
                },
                practice.By(PracticeRole.Fitter),
                default
            );
        Assert.Null(entered.Refused);
        Assert.Null(
            (await acts.Get<IdentifyHorse>().Do(new(horse, "276098100123456", null), practice.By(PracticeRole.Fitter), default)).Refused
        );
        await acts.Store.CatchUp();

        var filter = new CaseloadFilter([], typed, null, null, CaseloadOrder.Name);
        var rows = (await acts.Get<Caseload>().Page(practice.Name, filter, null, 10, default)).Rows;
        Assert.Equal(found ? [horse] : [], rows.Select(r => r.Horse.Id));
        var counts = await acts.Get<Caseload>().Counts(practice.Name, filter, default);
        Assert.Equal(found ? 1 : 0, counts.Unknown + counts.NotYet);
        var listed = await acts.Get<Find>().ByText(practice.Name, typed, default);
        Assert.Equal(found, listed.Any(f => f.Id == horse || f.Id == owner || f.Id == yard));
        // The list of reminders asks by the same condition; no reminder stands here, so only that the question can be asked is seen.
        Assert.Empty(await acts.Get<ReminderList>().Counts(practice.Name, new ReminderFilter(typed), default));
    }
}
