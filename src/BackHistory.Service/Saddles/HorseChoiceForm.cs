using BackHistory.Service.Web;

namespace BackHistory.Service.Saddles;

/// <summary>A form in which a horse is chosen from a list, or found by its name.</summary>
public abstract class HorseChoiceForm : TypedForm
{
    /// <summary>An id; empty where none was chosen.</summary>
    public string? Horse { get; set; }

    /// <summary>Goes before what was chosen.</summary>
    public string? HorseName { get; set; }
}
