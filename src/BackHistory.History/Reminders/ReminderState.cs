namespace BackHistory.History.Reminders;

public enum ReminderState
{
    Open,
    PutOff,
    Booked,
    Done,
    Closed,
    Withdrawn,

    /// <summary>Its ground must hold for a while yet; nobody is told.</summary>
    Pending,

    /// <summary>Its ground stands, but something weightier is said instead, or the horse is out of work.</summary>
    Muted,
}
