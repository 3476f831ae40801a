namespace BackHistory.History.Reminders.Planning;

/// <summary>What is booked already: it takes its time, and its yard is a place where somebody is anyway.</summary>
public sealed record FixedVisit(Guid HorseId, Guid? YardId, DateTime Start, Guid? Fitter);
