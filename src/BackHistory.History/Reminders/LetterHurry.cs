namespace BackHistory.History.Reminders;

/// <summary>Whether a letter waits for the end of its reader's quiet hours.</summary>
public enum LetterHurry
{
    Waits,

    /// <summary>Not when the visit begins within a day: somebody would not be there.</summary>
    WaitsUnlessNear,

    /// <summary>Told at once: somebody would go to the yard for nothing.</summary>
    AtOnce,
}
