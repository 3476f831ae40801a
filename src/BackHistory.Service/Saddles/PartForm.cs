namespace BackHistory.Service.Saddles;

/// <summary>One part of a saddle as it is typed into a page.</summary>
public sealed class PartForm
{
    public string? Part { get; set; }

    /// <summary><c>left</c>, <c>right</c>, or empty for both.</summary>
    public string? Side { get; set; }

    public string? What { get; set; }

    /// <summary>The key of the gauge; empty for none.</summary>
    public string? Gauge { get; set; }
}
