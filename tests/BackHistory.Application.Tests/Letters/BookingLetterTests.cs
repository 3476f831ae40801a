using BackHistory.Application.Letters;
using BackHistory.Application.Practices;
using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

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

    /// <summary>Ten in the morning where the practice is, wherever its reader lives.</summary>
    [Theory]
    [InlineData("en", "Tuesday, 17 Mar 2026 at 10:00", "You reach us by telephone under 0151 0000001.", "Bramble: the date of our visit")]
    [InlineData("de", "Dienstag, 17. März 2026 um 10:00 Uhr", "Telefonisch erreichen Sie uns unter 0151 0000001.", "Bramble: unser Termin")]
    public async Task Weekday_day_hour_and_telephone_are_said_by_the_practices_clock(string tag, string when, string phone, string subject)
    {
        var practice = await acts.Found($"booking says {tag}");
        var contact = new SetPracticeContact.Input(new ContactDetails(null, "0151 0000001", null), null, false);
        Assert.Null((await acts.Get<SetPracticeContact>().Do(contact, practice.By(PracticeRole.Administrator), default)).Refused);
        var owner = practice.Id("owner");
        var far = new Person(owner, "Robin Field", $"{owner:N}@people.invalid", null, null, PersonRole.Owner, tag, "Asia/Tokyo");
        await acts.Get<PracticeQueries>().Add(practice.Name, far, default);
        var (reminder, _) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);
        var at = new DateTimeOffset(2026, 3, 17, 10, 0, 0, TimeSpan.Zero);
        var booking = new ArrangeVisit.Input(reminder, practice.Id("visit"), at, null, Tell: true);
        Assert.Null((await acts.Get<ArrangeVisit>().Do(booking, practice.By(PracticeRole.Fitter), default)).Refused);

        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);

        var sent = acts.Mail.Sent.Single(l => l.Calendar is not null && l.ToAddress == far.Email);
        Assert.Equal(subject, sent.Subject);
        Assert.Contains(when, sent.Text, StringComparison.Ordinal);
        Assert.Contains(phone, sent.Text, StringComparison.Ordinal);
    }
}
