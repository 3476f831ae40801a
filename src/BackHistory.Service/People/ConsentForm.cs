using BackHistory.Service.Web;

namespace BackHistory.Service.People;

/// <summary>What somebody said when they were asked, as it is typed into a page.</summary>
public sealed class ConsentForm : TypedForm
{
    public string? Kind { get; set; }

    /// <summary>given or withdrawn; nothing is ticked beforehand.</summary>
    public string? Answer { get; set; }

    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }

    public string? Words { get; set; }
}
