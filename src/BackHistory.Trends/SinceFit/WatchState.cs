namespace BackHistory.Trends.SinceFit;

/// <summary>What the data say about one measure, or one horse, since the saddle was last set (method.md section 7).</summary>
public enum WatchState
{
    /// <summary>As it was set.</summary>
    Steady,

    /// <summary>Moving.</summary>
    Watch,

    /// <summary>The data cannot tell: measure.</summary>
    Unknown,

    /// <summary>The saddle was set to another shape.</summary>
    Refit,
}
