namespace BackHistory.Service.Reminders;

/// <summary>What became of one of several.</summary>
/// <param name="Problem">Why not; null where it was done.</param>
public sealed record ManyResult(Guid ReminderId, string Horse, string? Problem);
