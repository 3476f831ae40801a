namespace BackHistory.Service.Reminders;

/// <param name="FitterId">Only this person's visits; null for all of the practice.</param>
public sealed record FeedRequest(string? Name, Guid? FitterId = null);
