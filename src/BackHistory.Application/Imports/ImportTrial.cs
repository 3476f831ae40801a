using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What would become of a spreadsheet, line by line; or what must be answered first.</summary>
public sealed record ImportTrial(IReadOnlyList<ImportQuestion> Questions, ImportCounts Counts, IReadOnlyList<ImportLine> Lines);
