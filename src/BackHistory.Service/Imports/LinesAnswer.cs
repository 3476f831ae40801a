namespace BackHistory.Service.Imports;

public sealed record LinesAnswer(IReadOnlyList<LineAnswer> Lines, int? Next);
