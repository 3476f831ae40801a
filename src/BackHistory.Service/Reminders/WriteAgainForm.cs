using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>That a letter is to come twice.</summary>
public sealed class WriteAgainForm : TypedForm
{
    /// <summary>How the page showed the reminder.</summary>
    public string? Shown { get; set; }
}
