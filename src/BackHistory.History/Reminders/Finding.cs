namespace BackHistory.History.Reminders;

/// <summary>What happened to the back, in a form that can be said in any language.</summary>
/// <param name="Station">Where along the back; null for the whole of it.</param>
/// <param name="Side"><c>left</c> or <c>right</c>; null for both.</param>
public sealed record Finding(FindingKind Kind, string? Station, string? Side);
