using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>A person's part in a horse's care as it is chosen on a page.</summary>
public sealed class RoleForm : TypedForm
{
    public string? Person { get; set; }

    public string? Role { get; set; }

    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }
}
