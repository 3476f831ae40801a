using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>A reason typed on a page.</summary>
public sealed class ReasonForm : TypedForm
{
    public string? Reason { get; set; }
}
