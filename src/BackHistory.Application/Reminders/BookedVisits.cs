using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Reads what is booked, with where its horses stand and who could go.</summary>
public sealed class BookedVisits(ReminderQueries reminders, PracticeQueries practices)
{
    /// <param name="to">The day after the last, by the practice's clock.</param>
    /// <param name="horses">Whose yards are asked about besides.</param>
    public async Task<BookedTime> Within(
        Practice practice,
        string tenant,
        DateOnly from,
        DateOnly to,
        IEnumerable<Guid> horses,
        CancellationToken ct
    )
    {
        var zone = PracticeClock.Zone(practice);
        var booked = (
            await reminders.Booked(tenant, ZoneClock.At(from, TimeOnly.MinValue, zone), ZoneClock.At(to, TimeOnly.MinValue, zone), ct)
        )
            .DistinctBy(r => r.BookingId)
            .ToList();
        return new BookedTime(
            booked,
            await reminders.Horses(tenant, booked.Select(r => r.HorseId).Concat(horses), ct),
            await practices.InRole(tenant, PersonRole.Fitter, ct),
            zone
        );
    }
}
