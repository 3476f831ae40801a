using BackHistory.Application.Imports;
using BackHistory.Store.Imports;

namespace BackHistory.Service.Imports;

/// <param name="Next">The line after which to go on; null at the end.</param>
public sealed record TrialAnswer(IReadOnlyList<ImportQuestion> Questions, ImportCounts Counts, IReadOnlyList<LineAnswer> Lines, int? Next);
