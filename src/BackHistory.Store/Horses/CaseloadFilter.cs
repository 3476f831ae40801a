using BackHistory.Trends.SinceFit;

namespace BackHistory.Store.Horses;

/// <summary>What the manager asks to see.</summary>
/// <param name="States">Any of these; empty for all.</param>
/// <param name="Text">Part of the name of the horse, its owner or its yard, of its numbers, or of how its owner is reached.</param>
/// <param name="Reminder">Only horses with an open reminder, or only those without.</param>
public sealed record CaseloadFilter(IReadOnlyList<WatchState> States, string? Text, Guid? YardId, bool? Reminder, CaseloadOrder Order);
