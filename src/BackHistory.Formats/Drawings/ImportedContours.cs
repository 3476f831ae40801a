using System.Collections.Immutable;

namespace BackHistory.Formats.Drawings;

/// <summary>The lines of a file, the longest first.</summary>
/// <param name="UnitStated">false when the file has no unit of its own and the caller's, or millimetres, was taken</param>
public sealed record ImportedContours(ImmutableArray<ImportedLine> Lines, bool UnitStated);
