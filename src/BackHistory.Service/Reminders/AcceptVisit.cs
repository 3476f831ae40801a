namespace BackHistory.Service.Reminders;

/// <param name="At">With the offset of the place; a proposed time, or another that suits better.</param>
/// <param name="FitterId">Who goes; null while nobody was named.</param>
public sealed record AcceptVisit(Guid HorseId, DateTimeOffset At, Guid? FitterId = null);
