namespace BackHistory.Store.Imports;

/// <summary>A spreadsheet that was sent in, what its columns mean and how far it was entered. The file itself lies beside it until it was
/// entered or taken back.</summary>
/// <param name="Generation">How many imports had been taken back before: what was taken back can be entered again, as new things.</param>
public sealed record Import(Guid Id, string Name, int Generation, DateTimeOffset At, Guid By)
{
    /// <summary>Hash of its bytes; null once they are gone, since they may name people.</summary>
    public string? File { get; init; }

    public string? Sheet { get; init; }

    public ImportState State { get; init; }

    public ImportPlan? Plan { get; init; }

    public int Lines { get; init; }

    public ImportCounts Counts { get; init; } = new(0, 0, 0);

    /// <summary>When the last line was entered; null before, and of earlier releases.</summary>
    public DateTimeOffset? EnteredAt { get; init; }

    public ImportCounts TakenBack { get; init; } = new(0, 0, 0);
}
