namespace BackHistory.Service.Saddles;

/// <summary>One shim of a pad as it is typed into a page.</summary>
public sealed class ShimForm
{
    public string? Place { get; set; }

    /// <summary><c>left</c>, <c>right</c>, or empty for both.</summary>
    public string? Side { get; set; }

    /// <summary>Millimetres.</summary>
    public string? Thickness { get; set; }
}
