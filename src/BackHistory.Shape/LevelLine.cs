namespace BackHistory.Shape;

/// <summary>
/// A line that was horizontal (or runs with gravity's level) when traced: from the horse's left to its right, or head to tail.
/// </summary>
public readonly record struct LevelLine(Point From, Point To);
