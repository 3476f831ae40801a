using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Letters;

/// <summary>Which letters about many horses are owed, and to whom.</summary>
public sealed class DigestScheduleTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task A_digest_is_owed_to_each_manager_once_however_often_it_is_asked_for()
    {
        var practice = await acts.Found("digest");
        var (one, two) = (await practice.Person("One", PersonRole.Manager), await practice.Person("Two", PersonRole.Manager));
        await practice.Person("Owner", PersonRole.Owner);
        acts.Time.Now = PracticeActs.Began.AddHours(3);
        // As new as it is, it has no week to tell of.
        Assert.Equal(0, await acts.Get<DigestSchedule>().Owe(practice.Name, default));
        await practice.Yard.Horse(acts.Time.Now.AddDays(-1), "Bramble");

        Assert.Equal(2, await acts.Get<DigestSchedule>().Owe(practice.Name, default));
        acts.Time.Now += TimeSpan.FromMinutes(10);
        Assert.Equal(0, await acts.Get<DigestSchedule>().Owe(practice.Name, default));

        Assert.Equal(new[] { one, two }.Order(), (await Owed(practice, LetterKind.ManagerDigest)).Select(l => l.To).Order());
        acts.Time.Now += TimeSpan.FromDays(7);
        Assert.Equal(2, await acts.Get<DigestSchedule>().Owe(practice.Name, default));
    }

    [Fact]
    public async Task The_days_list_goes_to_the_fitter_who_is_booked_today_and_to_nobody_on_a_day_without_a_visit()
    {
        var practice = await acts.Found("day list");
        acts.Time.Now = PracticeActs.Began.AddHours(3);
        var (goes, stays) = (await practice.Person("Goes", PersonRole.Fitter), await practice.Person("Stays", PersonRole.Fitter));
        var owner = await practice.Person("Owner", PersonRole.Owner);
        Assert.Equal(0, await acts.Get<DigestSchedule>().Owe(practice.Name, default));
        var (reminder, _) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);

        var arranged = await acts.Get<ArrangeVisit>()
            .Do(
                new(reminder, practice.Id("booking"), acts.Time.Now.AddDays(1), goes, Tell: false),
                practice.By(PracticeRole.Fitter),
                default
            );
        Assert.Null(arranged.Refused);
        await acts.Store.CatchUp();
        Assert.Equal(0, await acts.Get<DigestSchedule>().Owe(practice.Name, default));
        acts.Time.Now += TimeSpan.FromHours(20);
        Assert.Equal(1, await acts.Get<DigestSchedule>().Owe(practice.Name, default));

        Assert.Equal(goes, Assert.Single(await Owed(practice, LetterKind.FitterDay)).To);
        Assert.NotEqual(goes, stays);
    }

    [Fact]
    public async Task Where_there_is_no_practice_nothing_is_owed() =>
        Assert.Equal(0, await acts.Get<DigestSchedule>().Owe("no such practice", default));

    private async Task<IReadOnlyList<Letter>> Owed(TestPractice practice, LetterKind kind)
    {
        await acts.Store.CatchUp();
        return [.. (await acts.Store.Reminders.Owed(practice.Name, 100, default)).Where(l => l.Kind == kind)];
    }
}
