namespace BackHistory.History.Reminders;

/// <summary>Tracings of one visit that all lean the same way.</summary>
/// <param name="Way">The side to which they lean: <c>left</c> or <c>right</c>.</param>
public sealed record LeaningTracings(DateOnly On, string Way);
