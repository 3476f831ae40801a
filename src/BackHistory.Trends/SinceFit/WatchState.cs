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

    /// <summary>The back has left the shape that the saddle was set to.</summary>
    Refit,
}
