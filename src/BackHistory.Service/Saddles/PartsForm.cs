using BackHistory.Service.Web;

namespace BackHistory.Service.Saddles;

/// <summary>The parts of a saddle as they are typed into a page.</summary>
public sealed class PartsForm : TypedForm
{
    public List<PartForm> Parts
    {
        get;
        // Where one place of a list was not sent as a page sends it, the framework puts nothing in the place of the whole list.
        set => field = value ?? [];
    } = [];

    /// <summary>The day; none means today.</summary>
    public string? From { get; set; }
}
