using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;

namespace BackHistory.Application.Reminders;

/// <summary>A month's proposal with the names that a person reads.</summary>
public sealed record NamedPlan(
    DateOnly From,
    DateOnly To,
    TimeZoneInfo Zone,
    Proposal Proposal,
    IReadOnlyDictionary<Guid, string> Horses,
    IReadOnlyDictionary<Guid, string> Yards,
    IReadOnlyDictionary<Guid, string> People,
    IReadOnlyDictionary<Guid, Reminder> Reminders
);
