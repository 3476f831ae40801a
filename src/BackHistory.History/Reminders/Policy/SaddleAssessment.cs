using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Reminders.Policy;

/// <summary>One saddle on one horse since its last fit.</summary>
/// <param name="WorkId">The work that is the baseline.</param>
/// <param name="Before">The state that held before: with the events and the version of the rules it is all that the decision follows
/// from.</param>
/// <param name="BaselineVisit">The visit that stands for the shape at that work; null where none lies near enough.</param>
public sealed record SaddleAssessment(Guid SaddleId, Guid WorkId, Guid? BaselineVisit, HorseDecision Decision, WatchState? Before = null);
