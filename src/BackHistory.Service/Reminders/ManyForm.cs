using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>What is done with several reminders at once, as it is typed.</summary>
public sealed class ManyForm : TypedForm
{
    public string? Reason { get; set; }

    /// <summary>Until which day.</summary>
    public string? Until { get; set; }

    /// <summary>Also where a letter went within the hour.</summary>
    public bool EvenSo { get; set; }

    /// <summary>How the page showed each of them: <c>id=tag</c>, parted by blanks.</summary>
    public string? Shown { get; set; }
}
