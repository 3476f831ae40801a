namespace BackHistory.History.Reminders;

/// <summary>Whether a letter that is owed may leave now.</summary>
/// <param name="Hindrance">What it waits for; null when nothing holds it back.</param>
/// <param name="Why">Why it never leaves, in words for the record; null while it may.</param>
public readonly record struct LetterVerdict(LetterHindrance? Hindrance, string? Why)
{
    public static readonly LetterVerdict Leaves = new(null, null);

    public static LetterVerdict Waits(LetterHindrance forWhat) => new(forWhat, null);

    public static LetterVerdict Never(string why) => new(null, why);

    public bool MayLeave => this is { Hindrance: null, Why: null };
}

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
