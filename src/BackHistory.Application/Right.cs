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

    /// <summary>What a sealed link, an invitation or a grant lets its holder do: no role of the practice stands behind it, and the door
    /// that read it says of whom and of what.</summary>
    Hold,

    /// <summary>What only whoever runs the installation's machine does, by its command line.</summary>
    Operate,
}
