namespace BackHistory.Service.Reminders;

/// <param name="Until">Until this day nothing is proposed for the horse, or said of it.</param>
public sealed record DeclineRequest(Guid HorseId, DateOnly Until, string? Reason);
