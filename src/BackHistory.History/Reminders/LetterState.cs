namespace BackHistory.History.Reminders;

public enum LetterState
{
    Owed,

    /// <summary>A mail server has taken it.</summary>
    Sent,
    GivenUp,

    /// <summary>Not taken yet; tried again with growing pauses.</summary>
    Deferred,

    /// <summary>The reader's own mail server reports that it has it.</summary>
    Delivered,

    /// <summary>It came back.</summary>
    Bounced,
}
