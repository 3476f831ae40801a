namespace BackHistory.Reports.Sheets.Content;

/// <summary>What stands at the head of every sheet.</summary>
public sealed record SheetHead
{
    public required string PracticeName { get; init; }

    public required string HorseName { get; init; }

    /// <summary>Of the visit or the report, in the practice's time zone.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>How the practice is reached, in one line.</summary>
    public string Contact { get; init; } = "";

    /// <summary>The practice's own picture.</summary>
    public SheetMark? Mark { get; init; }

    public ReportLanguage Language { get; init; }
}
