namespace BackHistory.Reports.Sheets.Content;

/// <summary>What stands at the head of every sheet.</summary>
public sealed record SheetHead
{
    public required string PracticeName { get; init; }

    public required string HorseName { get; init; }

    /// <summary>Of the visit or the report, in the practice's time zone.</summary>
    public required DateOnly Date { get; init; }

    public ReportLanguage Language { get; init; }
}

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
