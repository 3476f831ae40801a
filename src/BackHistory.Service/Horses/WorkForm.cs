using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>A horse's work from a day on, as it is typed into a page.</summary>
public sealed class WorkForm : TypedForm
{
    public string? Load { get; set; }

    public string? Discipline { get; set; }

    public string? Hours { get; set; }

    /// <summary>The day; none means today.</summary>
    public string? From { get; set; }
}
