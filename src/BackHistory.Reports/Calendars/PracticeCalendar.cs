using BackHistory.Reports.Charts.Drawing;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;

namespace BackHistory.Reports.Calendars;

/// <summary>Bookings as iCalendar (RFC 5545; methods by RFC 5546): times in UTC, UID = the appointment's id, SEQUENCE = its
/// version.</summary>
public static class PracticeCalendar
{
    /// <summary>The media type of the mail part, with the method as its parameter.</summary>
    public static string MediaType(Appointment appointment) =>
        $"text/calendar; charset=utf-8; method={(appointment.Cancelled ? "CANCEL" : "REQUEST")}";

    /// <summary>An invitation for one booking, or its cancellation: METHOD REQUEST or CANCEL.</summary>
    /// <exception cref="ArgumentException">The appointment ends before it starts, or an e-mail address is none.</exception>
    public static string Booking(Appointment appointment, CalendarPerson practice, CalendarPerson guest)
    {
        var calendar = NewCalendar(appointment.Cancelled ? "CANCEL" : "REQUEST");
        var booking = Event(appointment);
        booking.Organizer = new Organizer(Mail(practice)) { CommonName = Printable.Clean(practice.Name) };
        booking.Attendees.Add(
            new Attendee(Mail(guest))
            {
                CommonName = Printable.Clean(guest.Name),
                Role = "REQ-PARTICIPANT",
                ParticipationStatus = "NEEDS-ACTION",
                Rsvp = true,
            }
        );
        calendar.Events.Add(booking);
        return Written(calendar);
    }

    /// <summary>Many bookings to subscribe to: METHOD PUBLISH, in order of time; cancelled ones are kept, marked so, or readers would
    /// keep the old one.</summary>
    /// <exception cref="ArgumentException">An appointment ends before it starts.</exception>
    public static string Feed(string name, IEnumerable<Appointment> appointments)
    {
        var calendar = NewCalendar("PUBLISH");
        calendar.AddProperty("X-WR-CALNAME", Printable.Clean(name));
        calendar.AddProperty("REFRESH-INTERVAL;VALUE=DURATION", "PT1H");
        foreach (var appointment in appointments.OrderBy(a => a.Start).ThenBy(a => a.Id))
            calendar.Events.Add(Event(appointment));
        return Written(calendar);
    }

    static Calendar NewCalendar(string method) =>
        new()
        {
            Method = method,
            ProductId = "-//BackHistory//Bookings//EN",
            Version = "2.0",
        };

    static CalendarEvent Event(Appointment appointment)
    {
        if (appointment.End <= appointment.Start)
            throw new ArgumentException($"The appointment {appointment.Id} ends before it starts.", nameof(appointment));
        var entry = new CalendarEvent
        {
            Uid = appointment.Id.ToString("D"),
            Sequence = appointment.Version,
            DtStamp = Utc(appointment.ChangedAt),
            DtStart = Utc(appointment.Start),
            DtEnd = Utc(appointment.End),
            Summary = Printable.Clean(appointment.Summary),
            Status = appointment.Cancelled ? "CANCELLED" : "CONFIRMED",
        };
        if (appointment.Place.Length > 0)
            entry.Location = Printable.Clean(appointment.Place);
        if (appointment.Notes.Length > 0)
            entry.Description = string.Join('\n', appointment.Notes.Split('\n').Select(Printable.Clean));
        if (appointment.Url is { } url)
            entry.Url = new Uri(url);
        return entry;
    }

#pragma warning disable RS0030 // An instant, as the calendar's format writes it (RFC 5545, 3.3.5).
    static CalDateTime Utc(DateTimeOffset time) => new(time.UtcDateTime, "UTC");
#pragma warning restore RS0030

    static string Mail(CalendarPerson person) =>
        System.Net.Mail.MailAddress.TryCreate(person.Email, out var address) && address.Address == person.Email
            ? $"mailto:{person.Email}"
            : throw new ArgumentException($"“{Printable.Clean(person.Email)}” is no e-mail address.", nameof(person));

    static string Written(Calendar calendar) => CalendarLines.Fold(new CalendarSerializer().SerializeToString(calendar)!);
}
