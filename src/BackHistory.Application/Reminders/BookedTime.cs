using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>What is booked within some days, as plans and clashes look at it.</summary>
/// <param name="Reminders">A booking once, though it may stand for several reminders.</param>
/// <param name="Horses">Of the bookings, and those that were asked about.</param>
public sealed record BookedTime(
    IReadOnlyList<Reminder> Reminders,
    IReadOnlyDictionary<Guid, HorseProfile> Horses,
    IReadOnlyList<Person> Fitters,
    TimeZoneInfo Zone
)
{
    /// <summary>Everything that takes its time already.</summary>
    public IReadOnlyList<FixedVisit> Taken => [.. Reminders.Select(r => Visit(r.HorseId, r.BookedFor!.Value, r.Fitter))];

    /// <summary>Whoever is named; where nobody is, whoever it is in a practice of one, and nobody in particular in others.</summary>
    public Guid? Goes(Guid? named) => Goes(named, Fitters);

    /// <inheritdoc cref="Goes(Guid?)"/>
    public static Guid? Goes(Guid? named, IReadOnlyList<Person> fitters) => named ?? (fitters is [var only] ? only.Id : null);

    public FixedVisit Visit(Guid horse, DateTimeOffset at, Guid? named) =>
        new(horse, Horses.GetValueOrDefault(horse)?.YardId, ZoneClock.At(at, Zone).DateTime, Goes(named));
}
