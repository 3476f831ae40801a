using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>A note of a horse's care as it is typed into a page.</summary>
public sealed class CareForm : TypedForm
{
    public string? Kind { get; set; }

    public string? From { get; set; }

    /// <summary>The last day; empty where it goes on, or was one day.</summary>
    public string? Until { get; set; }

    public string? Words { get; set; }

    /// <summary>The person of whom it tells; empty where it tells of nobody.</summary>
    public string? About { get; set; }

    public string? Reason { get; set; }
}
