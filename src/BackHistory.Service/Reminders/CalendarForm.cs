using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>An address for a calendar program as it is asked for on a page.</summary>
public sealed class CalendarForm : TypedForm
{
    /// <summary>The choice of one's own days.</summary>
    public const string OwnDays = "own";

    /// <summary>The choice of everybody's days.</summary>
    public const string AllDays = "all";

    public string? Name { get; set; }

    /// <summary><see cref="OwnDays"/> or <see cref="AllDays"/>.</summary>
    public string? Whose { get; set; }
}
