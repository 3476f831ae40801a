using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>Exactly one of the two is there.</summary>
public readonly record struct ContourRead(ImportedContours? Contours, Refusal? Refused);
