using BackHistory.Service.Web;

namespace BackHistory.Service.Saddles;

/// <summary>The parts of a saddle as they are typed into a page.</summary>
public sealed class PartsForm : TypedForm
{
    public List<PartForm> Parts
    {
        get;
        set => field = Sent(value);
    } = [];

    /// <summary>The day; none means today.</summary>
    public string? From { get; set; }
}
