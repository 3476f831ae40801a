namespace BackHistory.Service.Imports;

/// <param name="Examples">The first lines, as they are read.</param>
public sealed record SheetAnswer(Guid Id, IReadOnlyList<string> Headers, IReadOnlyList<IReadOnlyList<string>> Examples, int Lines);
