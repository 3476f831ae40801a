namespace BackHistory.Service.Horses;

/// <summary>A reason typed on a page.</summary>
public sealed class ReasonForm
{
    public string Key { get; set; } = "";

    /// <summary>Of what the page showed.</summary>
    public long? Version { get; set; }

    public string? Reason { get; set; }
}
