using BackHistory.Service.Web;

namespace BackHistory.Service.People;

/// <summary>Whoever erases says so twice.</summary>
public sealed class EraseForm : TypedForm
{
    public bool IsSure { get; set; }
}
