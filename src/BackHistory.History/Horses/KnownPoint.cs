using System.Text.Json.Serialization;
using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <summary>A point of a picture whose place is known.</summary>
/// <param name="At">Pixels, right and down from the picture's upper left corner.</param>
/// <param name="Mm">Millimetres, right and down.</param>
public sealed record KnownPoint([property: JsonRequired] Point At, [property: JsonRequired] Point Mm);
