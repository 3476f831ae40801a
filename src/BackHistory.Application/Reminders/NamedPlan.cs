using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>A proposal for some weeks with what is booked in them, and with whatever a person reads of it.</summary>
/// <param name="Booked">In order of time; two reminders that share a booking stand once.</param>
/// <param name="Reminders">Those that wait for the proposed visits.</param>
/// <param name="Owners">Of the horses, by their own ids.</param>
public sealed record NamedPlan(
    DateOnly From,
    DateOnly To,
    TimeZoneInfo Zone,
    ProposedMonth Proposal,
    IReadOnlyList<Reminder> Booked,
    IReadOnlyDictionary<Guid, HorseProfile> Horses,
    IReadOnlyDictionary<Guid, Yard> Yards,
    IReadOnlyDictionary<Guid, string> People,
    IReadOnlyDictionary<Guid, Person> Owners,
    IReadOnlyDictionary<Guid, Reminder> Reminders
)
{
    public string HorseName(Guid id) => Horses.GetValueOrDefault(id)?.Name ?? "a horse";

    public Yard? YardOf(Guid horse) => Horses.GetValueOrDefault(horse)?.YardId is { } id ? Yards.GetValueOrDefault(id) : null;

    public Person? OwnerOf(Guid horse) => Horses.GetValueOrDefault(horse)?.OwnerId is { } id ? Owners.GetValueOrDefault(id) : null;
}
