namespace BackHistory.Service.Reminders;

public sealed record FeedAnswer(
    Guid Id,
    string Name,
    Guid? FitterId,
    DateTimeOffset MadeAt,
    DateTimeOffset? RevokedAt,
    DateTimeOffset? LastUsed
);
