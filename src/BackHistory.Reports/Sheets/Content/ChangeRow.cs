namespace BackHistory.Reports.Sheets.Content;

/// <summary>One measure then and now, as the caller writes it, with unit and uncertainty.</summary>
/// <param name="State">In plain words: "no change seen", "changing", "changed: check the saddle", "measure again".</param>
public sealed record ChangeRow(
    string Measure,
    string Station,
    string Then,
    string Now,
    string Change,
    string Threshold = "",
    string State = ""
);
