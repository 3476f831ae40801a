namespace BackHistory.Store.Imports;

/// <summary>What became of one line.</summary>
/// <param name="Column">The header of the cell that is wrong.</param>
/// <param name="Made">What entering it made, so that it can be taken back.</param>
/// <param name="StaysBecause">Why it could not be taken back.</param>
public sealed record ImportLine(
    Guid Id,
    Guid ImportId,
    int Line,
    LineVerdict Verdict,
    string? Code,
    string? Message,
    string? Column,
    IReadOnlyList<MadeByImport> Made,
    bool TakenBack = false,
    string? StaysBecause = null
);
