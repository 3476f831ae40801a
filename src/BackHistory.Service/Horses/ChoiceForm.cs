using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>Somebody or some place chosen on a page, and since when.</summary>
public sealed class ChoiceForm : TypedForm
{
    /// <summary>Empty where nobody was chosen.</summary>
    public string? Id { get; set; }

    /// <summary>The day; none means today.</summary>
    public string? From { get; set; }
}
