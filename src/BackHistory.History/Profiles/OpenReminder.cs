using BackHistory.History.Reminders;

namespace BackHistory.History.Profiles;

/// <param name="Before">What a muted one comes back to.</param>
public sealed record OpenReminder(
    Guid? SaddleId,
    ReminderRule Rule,
    ReminderState State,
    DateTimeOffset RaisedAt,
    bool Told,
    ReminderState Before = ReminderState.Open
);
