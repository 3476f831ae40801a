namespace BackHistory.History.Reminders;

/// <summary>What an owed letter waits for.</summary>
public enum LetterHindrance
{
    /// <summary>Somebody is to look at the practice's first letters and let them go.</summary>
    Release,

    /// <summary>Its reminder is silent, and is heard again later.</summary>
    Silence,

    /// <summary>Its reader's evening, night or quiet day.</summary>
    QuietHours,

    /// <summary>The pause after an attempt that failed.</summary>
    Pause,
}
