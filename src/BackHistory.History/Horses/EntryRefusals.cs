namespace BackHistory.History.Horses;

/// <summary>What is wrong with one entry by itself, for whoever says all of it at once.</summary>
public static class EntryRefusals
{
    /// <returns>Null when it holds what a horse can have.</returns>
    public static Refused? Of(VisitEntry entry) =>
        VisitEntries.Enter(Guid.Empty, [entry], DateTimeOffset.UnixEpoch, Guid.Empty).Refused is { } refused
            ? refused with
            {
                Place = null,
            }
            : null;
}
