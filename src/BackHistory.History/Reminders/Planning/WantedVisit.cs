namespace BackHistory.History.Reminders.Planning;

/// <summary>One horse that wants a visit.</summary>
/// <param name="Due">The day by which it should be seen; one that lies before the plan's first day is late already.</param>
/// <param name="Weight">How much a day of lateness counts: a changed shape more than the calendar.</param>
public sealed record WantedVisit(Guid HorseId, Guid? YardId, DateOnly Due, int Weight, Guid? ReminderId);
