namespace BackHistory.Store.Saddles;

/// <summary>Where a saddle is, for whoever looks through them.</summary>
public enum SaddlePlace
{
    Anywhere,

    /// <summary>In use on a horse.</summary>
    OnHorse,

    /// <summary>Lent for a horse to try.</summary>
    OnTrial,

    /// <summary>Neither in use nor lent.</summary>
    OnNone,

    /// <summary>Registered by mistake.</summary>
    Withdrawn,
}
