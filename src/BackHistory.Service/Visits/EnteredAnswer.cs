using BackHistory.History.Horses;

namespace BackHistory.Service.Visits;

/// <summary>What was entered, with the measures of every tracing at once: the horse is still standing there.</summary>
public sealed record EnteredAnswer(Guid VisitId, long Version, IReadOnlyList<EnteredEntry> Entries)
{
    public static EnteredAnswer Of(Guid visitId, long version, IReadOnlyList<VisitEntry> entries) =>
        new(visitId, version, [.. entries.Select(EnteredEntry.Of)]);
}
