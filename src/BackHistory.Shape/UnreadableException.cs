namespace BackHistory.Shape;

/// <summary>Ends the reading of a wire form; never leaves the room: its message becomes a refusal.</summary>
internal sealed class UnreadableException(string message) : Exception(message);
