using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Letters;

/// <summary>A letter about a booked visit says when, and who comes.</summary>
public sealed class BookingLetterTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Theory]
    [InlineData("Anna Ford", true)]
    [InlineData("Ben Ford", false)]
    public async Task Who_comes_is_said_where_somebody_was_named(string fitter, bool named)
    {
        var practice = await acts.Found($"booking {fitter}");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var who = await practice.Person(fitter, PersonRole.Fitter);
        var (reminder, _) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);
        var booking = new ArrangeVisit.Input(reminder, practice.Id("visit"), acts.Time.Now.AddDays(7), named ? who : null, Tell: true);
        Assert.Null((await acts.Get<ArrangeVisit>().Do(booking, practice.By(PracticeRole.Fitter), default)).Refused);

        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);

        var sent = acts.Mail.Sent.Single(l => l.Calendar is not null && l.ToAddress == $"{owner:N}@people.invalid");
        Assert.Equal(named, sent.Text.Contains($"{fitter} comes.", StringComparison.Ordinal));
    }
}
