namespace BackHistory.History.Reminders.Planning;

/// <summary>One fitter at one yard on one day.</summary>
public sealed record ProposedStop(DateOnly On, Guid? Fitter, Guid? YardId, IReadOnlyList<ProposedVisit> Visits);
