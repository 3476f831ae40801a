using BackHistory.Shape;

namespace BackHistory.Formats;

/// <summary>Ends the reading of a foreign file; never leaves the room: it becomes a refusal.</summary>
internal sealed class ImportException(string code, string message) : Exception(message)
{
    internal Refusal Refusal => new(code, Message);

    internal static ImportException Unreadable(string message) => new(Refusal.Unreadable, message);

    internal static ImportException TooLarge(string message) => new(Refusal.TooLarge, message);
}
