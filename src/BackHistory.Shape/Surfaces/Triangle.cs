namespace BackHistory.Shape.Surfaces;

/// <summary>Three corners by their number, counter-clockwise seen from outside.</summary>
public readonly record struct Triangle(int A, int B, int C);
