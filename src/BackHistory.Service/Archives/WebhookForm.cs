using BackHistory.Service.Web;

namespace BackHistory.Service.Archives;

/// <summary>Software that is to be told of changes, as it is entered on a page.</summary>
public sealed class WebhookForm : TypedForm
{
    public string? Url { get; set; }

    /// <summary>Aliases of events; none for all.</summary>
    public List<string> Types
    {
        get;
        set => field = Sent(value);
    } = [];
}
