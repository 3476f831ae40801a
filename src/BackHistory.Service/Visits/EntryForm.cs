using BackHistory.Service.Web;

namespace BackHistory.Service.Visits;

/// <summary>An entry of a visit as it is typed to stand in the place of another.</summary>
public sealed class EntryForm : TypedForm
{
    /// <summary>A reading, a score, a weight, the girth or the height at the withers.</summary>
    public string? Value { get; set; }

    /// <summary>The length that goes with a girth, or the height at the croup.</summary>
    public string? Second { get; set; }

    /// <summary>Where it was read or traced.</summary>
    public string? Station { get; set; }

    /// <summary>Of a reading: what was read.</summary>
    public string? Measure { get; set; }

    public string? Words { get; set; }

    public string? Reason { get; set; }
}
