namespace BackHistory.Store.Rebuilds;

/// <summary>How far a rebuild has got.</summary>
/// <param name="Id">One document a practice.</param>
/// <param name="Changed">Documents that were other than what follows from the events today.</param>
/// <param name="Unreadable">Horses of which an event cannot be read: their documents stay as they are.</param>
public sealed record RebuildRun(
    string Id,
    DateTimeOffset StartedAt,
    int Horses,
    int Done = 0,
    int Changed = 0,
    int Passes = 0,
    DateTimeOffset? FinishedAt = null,
    int Unreadable = 0
)
{
    public const string TheOne = "rebuild";
}
