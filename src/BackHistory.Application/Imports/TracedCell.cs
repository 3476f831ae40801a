using BackHistory.Shape;

namespace BackHistory.Application.Imports;

/// <summary>A traced line as one cell holds it.</summary>
/// <param name="Points">In traced order, in millimetres; y up, the midline mark at the origin.</param>
internal sealed record TracedCell(IReadOnlyList<Point> Points, IReadOnlyDictionary<string, Point> Marks);
