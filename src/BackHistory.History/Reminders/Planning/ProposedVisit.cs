namespace BackHistory.History.Reminders.Planning;

/// <summary>One horse's place in a proposal, by the practice's own clock.</summary>
public sealed record ProposedVisit(Guid HorseId, Guid? ReminderId, DateOnly Due, TimeOnly At, int Minutes);
