using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>A day that no calendar goes on from is refused as any other that is too far away; found by an attack on the booking
/// page.</summary>
public sealed class BookingAtTheCalendarsEndTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Theory]
    [InlineData("9999-12-31T09:00:00Z")]
    [InlineData("9999-12-31T23:59:59Z")]
    [InlineData("0001-01-01T00:00:00Z")]
    public async Task A_visit_is_not_booked_there_and_nothing_breaks(string at)
    {
        var practice = await acts.Found($"end of days {at[..4]}{at[11..13]}");
        await practice.Person("Goes", PersonRole.Fitter);
        var (reminder, _) = await practice.NeverMeasured("Bramble", await practice.Person("Owner", PersonRole.Owner), acts.Time.Now);
        var day = DateTimeOffset.Parse(at, System.Globalization.CultureInfo.InvariantCulture);

        var outcome = await acts.Get<ArrangeVisit>()
            .Do(new(reminder, practice.Id("booking"), day, null, Tell: false), practice.By(PracticeRole.Fitter), default);

        Assert.Equal("bad-date", outcome.Refused?.Code);
    }
}
