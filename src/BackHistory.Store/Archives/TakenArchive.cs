using System.Text.Json.Serialization;

namespace BackHistory.Store.Archives;

/// <summary>How far an archive was taken in: the same one, sent again after an interruption, goes on behind this.</summary>
/// <param name="Id">One document a practice.</param>
/// <param name="LettersWait">
/// Letters that the archive says were sent are nobody's go here. False where a release took it in that did not ask for one: what it let
/// go stays let go.
/// </param>
public sealed record TakenArchive(string Id, string Hash, long Position, bool Done, bool LettersWait = false)
{
    internal const string TheOne = "archive";

    /// <summary>Some of its events are in, and not all.</summary>
    [JsonIgnore]
    public bool IsHalf => !Done && Position > 0;
}
