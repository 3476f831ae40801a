namespace BackHistory.Service.Reminders;

/// <summary>Says nothing but that it is so.</summary>
public sealed record NoWords;
