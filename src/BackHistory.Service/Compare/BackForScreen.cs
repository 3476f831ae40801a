namespace BackHistory.Service.Compare;

/// <summary>A lofted back for the screen: flat lists, millimetres.</summary>
/// <param name="Changes">One a vertex, millimetres towards more horse; null where one of the two dates was not traced; absent without an
/// earlier date.</param>
/// <param name="Span">Half the span of the colours.</param>
public sealed record BackForScreen(
    IReadOnlyList<double> Vertices,
    IReadOnlyList<int> Triangles,
    IReadOnlyList<double?>? Changes,
    double Span,
    double From,
    double To,
    IReadOnlyList<StationLine> Stations
);
