namespace BackHistory.Reports.Sheets.Content;

/// <summary>One measure then and now, as the caller writes it, with unit and uncertainty.</summary>
/// <param name="State">In plain words: "as it was set", "moving", "set to another shape", "cannot tell".</param>
public sealed record ChangeRow(
    string Measure,
    string Station,
    string Then,
    string Now,
    string Change,
    string Threshold = "",
    string State = ""
);
