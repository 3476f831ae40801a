using System.Globalization;
using System.Text;
using BackHistory.Reports.Calendars;
using Calendar = Ical.Net.Calendar;

namespace BackHistory.Reports.Tests.Calendars;

public class PracticeCalendarTests
{
    static readonly Appointment Visit = new()
    {
        Id = Guid.Parse("0f8fad5b-d9cb-469f-a165-70867728950e"),
        Version = 2,
        Start = new(2026, 12, 2, 9, 30, 0, TimeSpan.FromHours(1)),
        End = new(2026, 12, 2, 10, 30, 0, TimeSpan.FromHours(1)),
        ChangedAt = new(2026, 11, 25, 12, 0, 0, TimeSpan.Zero),
        Summary = "Saddle check: Juniper; bring water, please",
        Place = "Lower Barn, 12 Mill Lane",
        Notes = "Level ground.\nNot ridden in the two hours before.",
        Url = "https://practice.example/a/7Yx",
    };

    static readonly CalendarPerson Practice = new("Saddle Practice at the Ford (invented)", "office@practice.example");
    static readonly CalendarPerson Owner = new("Robin Field", "robin@owner.example");

    [Fact]
    public void A_booking_is_read_back_as_it_was_made()
    {
        var calendar = Calendar.Load(PracticeCalendar.Booking(Visit, Practice, Owner))!;
        var read = Assert.Single(calendar.Events);

        Assert.Equal("REQUEST", calendar.Method);
        Assert.Equal("2.0", calendar.Version);
        Assert.Equal(Visit.Id.ToString("D"), read.Uid);
        Assert.Equal(2, read.Sequence);
        Assert.Equal(new DateTime(2026, 12, 2, 8, 30, 0, DateTimeKind.Utc), read.DtStart!.AsUtc);
        Assert.Equal(new DateTime(2026, 12, 2, 9, 30, 0, DateTimeKind.Utc), read.DtEnd!.AsUtc);
        Assert.Equal(Visit.ChangedAt.ToUniversalTime().DateTime, read.DtStamp!.AsUtc);
        Assert.Equal((Visit.Summary, Visit.Place, Visit.Notes), (read.Summary, read.Location, read.Description));
        Assert.Equal("CONFIRMED", read.Status);
        Assert.Equal("mailto:office@practice.example", read.Organizer!.Value!.ToString());
        Assert.Equal("mailto:robin@owner.example", Assert.Single(read.Attendees).Value!.ToString());
        Assert.Equal("text/calendar; charset=utf-8; method=REQUEST", PracticeCalendar.MediaType(Visit));
    }

    [Fact]
    public void Times_are_written_in_utc()
    {
        var text = PracticeCalendar.Booking(Visit, Practice, Owner);

        Assert.Contains("\r\nDTSTART:20261202T083000Z\r\n", text, StringComparison.Ordinal);
        Assert.Contains("\r\nDTSTAMP:20261125T120000Z\r\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("TZID", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cancellation_cancels_the_same_booking_with_a_higher_sequence()
    {
        var calendar = Calendar.Load(PracticeCalendar.Booking(Visit with { Cancelled = true, Version = 3 }, Practice, Owner))!;
        var read = Assert.Single(calendar.Events);

        Assert.Equal("CANCEL", calendar.Method);
        Assert.Equal((Visit.Id.ToString("D"), 3, "CANCELLED"), (read.Uid, read.Sequence, read.Status));
    }

    [Fact]
    public void A_feed_holds_every_booking_in_order_of_time()
    {
        var visits = Enumerable
            .Range(0, 40)
            .Select(i =>
                Visit with
                {
                    Id = new Guid(i, 0, 0, new byte[8]),
                    Start = Visit.Start.AddDays((i * 17) % 40),
                    End = Visit.End.AddDays((i * 17) % 40),
                    Cancelled = i == 7,
                }
            )
            .ToList();

        var calendar = Calendar.Load(PracticeCalendar.Feed("Sam Rivers' visits", visits))!;

        Assert.Equal("PUBLISH", calendar.Method);
        Assert.Equal(visits.OrderBy(v => v.Start).Select(v => v.Id.ToString("D")), calendar.Events.Select(e => e.Uid));
        Assert.Single(calendar.Events, e => e.Status == "CANCELLED");
        Assert.All(calendar.Events, e => Assert.Empty(e.Attendees));
    }

    [Fact]
    public void An_empty_feed_is_still_a_calendar() => Assert.Empty(Calendar.Load(PracticeCalendar.Feed("Sam", []))!.Events);

    [Fact]
    public void No_line_is_longer_than_75_octets_and_no_character_is_cut()
    {
        var name = string.Concat(Enumerable.Repeat("Größenwahn ü 🐴 ", 20)).Trim();
        var text = PracticeCalendar.Booking(Visit with { Summary = name, Notes = name }, Practice with { Name = "Ürsel Öl" }, Owner);

        Assert.All(text.Split("\r\n"), line => Assert.InRange(Encoding.UTF8.GetByteCount(line), 0, 75));
        Assert.DoesNotContain('\uFFFD', text);
        Assert.Equal(name, Assert.Single(Calendar.Load(text)!.Events).Summary);
        Assert.All(text.Replace("\r\n", "", StringComparison.Ordinal), c => Assert.False(c is '\r' or '\n'));
    }

    [Fact]
    public void A_name_with_line_breaks_cannot_add_a_property()
    {
        var text = PracticeCalendar.Booking(
            Visit with
            {
                Summary = "x\r\nATTENDEE:mailto:evil@example.org",
                Place = "a;b,c\\d\"e",
            },
            Practice with
            {
                Name = "a\";X=\"\r\nSTATUS:CANCELLED",
            },
            Owner
        );
        var read = Calendar.Load(text)!.Events.Single();

        Assert.Single(read.Attendees);
        Assert.Equal("CONFIRMED", read.Status);
        Assert.Equal("a;b,c\\d\"e", read.Location);
    }

    [Fact]
    public void The_same_booking_gives_the_same_bytes_in_another_culture()
    {
        var here = PracticeCalendar.Booking(Visit, Practice, Owner);
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("ar-SA");
            Assert.Equal(here, PracticeCalendar.Booking(Visit, Practice, Owner));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void What_is_no_appointment_is_refused()
    {
        Assert.Throws<ArgumentException>(() => PracticeCalendar.Feed("x", [Visit with { End = Visit.Start }]));
        Assert.Throws<ArgumentException>(() =>
            PracticeCalendar.Booking(Visit, Practice, Owner with { Email = "Robin <robin@owner.example>" })
        );
        Assert.Throws<ArgumentException>(() => PracticeCalendar.Booking(Visit, Practice, Owner with { Email = "a@b.example\r\nX:y" }));
    }
}
