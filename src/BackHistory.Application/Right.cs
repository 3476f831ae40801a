namespace BackHistory.Application;

/// <summary>What somebody of a practice may do. Each act needs one of them, whichever door it is reached through.</summary>
public enum Right
{
    /// <summary>See horses, saddles, trends and reminders.</summary>
    See,

    /// <summary>Register horses and people, enter visits. What an apprentice enters is confirmed by a fitter.</summary>
    Enter,

    /// <summary>What a fitter answers for: confirming, correcting and withdrawing, work on saddles, reminders, the plan.</summary>
    Fit,

    /// <summary>Share horses, write to owners, answer for them, change rules.</summary>
    Manage,

    /// <summary>People, keys, jobs.</summary>
    Administer,
}
