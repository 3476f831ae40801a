namespace BackHistory.Service.Reminders;

/// <param name="Url">Shown once, when it is made: whoever has it sees the visits.</param>
public sealed record FeedMade(Guid Id, string Url);
