using BackHistory.Service.Web;

namespace BackHistory.Service.People;

/// <summary>A yard that is removed or brought back from a page: which of the two stands in what the page showed.</summary>
public sealed class RemoveYardForm : TypedForm
{
    public bool Back { get; set; }
}
