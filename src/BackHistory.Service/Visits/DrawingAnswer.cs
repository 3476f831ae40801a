namespace BackHistory.Service.Visits;

/// <summary>The lines of a drawing, the longest first: <c>line</c> of the import counts them from 0.</summary>
public sealed record DrawingAnswer(bool UnitStated, IReadOnlyList<DrawnLineAnswer> Lines);
