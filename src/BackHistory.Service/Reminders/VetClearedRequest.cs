namespace BackHistory.Service.Reminders;

/// <param name="Words">Which vet said so, when, and what.</param>
public sealed record VetClearedRequest(string? Words);
