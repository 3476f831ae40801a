namespace BackHistory.History.Horses;

/// <summary>How large a tracing may be before it is refused unread.</summary>
public static class TracingLimits
{
    /// <summary>A pen that is sampled every tenth of a millimetre along a metre of contour.</summary>
    public const int MostPoints = 10_000;
}
