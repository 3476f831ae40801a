namespace BackHistory.Store.Horses;

/// <param name="Next">The place of the last row, to go on from; null at the end.</param>
public sealed record CaseloadPage(IReadOnlyList<CaseloadRow> Rows, CaseloadPlace? Next);
