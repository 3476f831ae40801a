using BackHistory.History.Saddles;
using BackHistory.Service.Web;

namespace BackHistory.Service.Saddles;

/// <summary>A saddle as it is typed into a page.</summary>
public sealed class SaddleForm : TypedForm
{
    public string? Label { get; set; }

    public string? Tree { get; set; }

    public string? Panel { get; set; }

    public string? Girthing { get; set; }

    /// <summary>The key of the gauge of its tree; empty for none.</summary>
    public string? Gauge { get; set; }

    /// <summary>A person's id; empty where nobody was chosen.</summary>
    public string? Owner { get; set; }

    /// <summary>Why it is put right.</summary>
    public string? Reason { get; set; }

    internal SaddleDetails Details =>
        new(Label ?? "", FieldReader.Text(Tree), FieldReader.Text(Panel), FieldReader.Text(Girthing), FieldReader.Text(Gauge));
}
