using System.Text.Json.Serialization;
using BackHistory.Service.Web;

namespace BackHistory.Service.Saddles;

/// <summary>A photograph or a document as it is sent from a page.</summary>
public sealed class SaddleFileForm : TypedForm
{
    [JsonIgnore]
    public IFormFile? File { get; set; }

    /// <summary>Of what was sent, in its place: the same key with another file is another act.</summary>
    public string? Hash { get; set; }

    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }
}
