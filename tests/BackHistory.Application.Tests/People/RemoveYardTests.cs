using BackHistory.Application.Horses;
using BackHistory.Application.People;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.People;

/// <summary>A yard that nobody stands at any more leaves the lists, and can come back.</summary>
public sealed class RemoveYardTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task A_yard_is_removed_once_nobody_stands_there_takes_no_horse_meanwhile_and_is_brought_back()
    {
        var practice = await acts.Found("yards removed");
        var practices = acts.Get<PracticeQueries>();
        var (yard, other) = (await Yard(practice, "Far Hill"), await Yard(practice, "Near Hill"));
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-9));
        await Move(practice, horse, yard);

        var refused = (await Remove(practice, yard)).Refused!;
        Assert.Equal(("yard-in-use", RefusalKind.Conflict), (refused.Code, refused.Kind));
        Assert.StartsWith("A horse stands there.", refused.Message, StringComparison.Ordinal);

        await Move(practice, horse, other);
        Assert.Null((await Remove(practice, yard)).Refused);
        Assert.Equal(["Near Hill"], (await practices.YardsInUse(practice.Name, default)).Select(y => y.Name));
        Assert.Equal(2, (await practices.Yards(practice.Name, default)).Count);
        Assert.Empty(await acts.Get<Find>().ByText(practice.Name, "Far Hill", default));
        var moved = await acts.Get<MoveHorseToYard>().Do(new(horse, yard, null), practice.By(PracticeRole.Fitter), default);
        Assert.Equal("no-such-yard", moved.Refused!.Code);

        Assert.Null((await Remove(practice, yard, back: true)).Refused);
        await Move(practice, horse, yard);
        Assert.Equal("Far Hill", (await acts.Get<Find>().ByText(practice.Name, "Far Hill", default)).Single().Title);
    }

    [Fact]
    public async Task Another_practices_yard_is_removed_by_nobody_here()
    {
        var (mine, theirs) = (await acts.Found("yards mine"), await acts.Found("yards theirs"));
        var yard = await Yard(theirs, "Their Hill");

        Assert.Equal(RefusalKind.NotFound, (await Remove(mine, yard)).Refused!.Kind);
        Assert.False((await acts.Get<PracticeQueries>().Yard(theirs.Name, yard, default))!.Removed);
    }

    private async Task<Guid> Yard(TestPractice practice, string name)
    {
        var id = practice.Id(name);
        await acts.Get<PracticeQueries>().Add(practice.Name, new Yard(id, name, null), default);
        return id;
    }

    private async Task Move(TestPractice practice, Guid horse, Guid yard) =>
        Assert.Null((await acts.Get<MoveHorseToYard>().Do(new(horse, yard, null), practice.By(PracticeRole.Fitter), default)).Refused);

    private Task<Outcome> Remove(TestPractice practice, Guid yard, bool back = false) =>
        acts.Get<RemoveYard>().Do(new(yard, back), practice.By(PracticeRole.Fitter), default);
}
