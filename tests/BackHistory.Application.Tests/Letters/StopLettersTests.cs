using BackHistory.Application.Letters;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Letters;

/// <summary>Whoever stopped letters of a kind by mistake has them again by the same link.</summary>
public sealed class StopLettersTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task Letters_that_were_stopped_come_again_and_those_of_other_kinds_stay_stopped()
    {
        var practice = await acts.Found("stopped by mistake");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        await Ask(new(owner, LetterKind.OwnerCheck));
        await Ask(new(owner, LetterKind.OwnerRefit));
        Assert.Equal([LetterKind.OwnerCheck, LetterKind.OwnerRefit], await Stopped());

        await Ask(new(owner, LetterKind.OwnerCheck, Again: true));
        await Ask(new(owner, LetterKind.OwnerCheck, Again: true));

        Assert.Equal([LetterKind.OwnerRefit], await Stopped());

        Task Ask(StopLetters.Input input) => acts.Get<StopLetters>().ByLetter(practice.Name, input, default);
        async Task<IReadOnlyList<LetterKind>> Stopped() =>
            (await acts.Get<PracticeQueries>().Person(practice.Name, owner, default))!.Stopped;
    }
}
