using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>A visit as it is typed into a page.</summary>
public sealed class BookVisitForm : TypedForm
{
    public string? On { get; set; }

    public string? At { get; set; }

    /// <summary>Empty where nobody is named.</summary>
    public string? Fitter { get; set; }

    /// <summary>The owner gets the date.</summary>
    public bool Tell { get; set; }

    /// <summary>Whoever was asked about a clash means it.</summary>
    public bool EvenSo { get; set; }

    /// <summary>How the page showed the reminder.</summary>
    public string? Shown { get; set; }
}
