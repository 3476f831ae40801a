using BackHistory.History.Reminders.Digests;
using BackHistory.History.Timeline;
using Marten;

namespace BackHistory.Store.Rebuilds;

/// <summary>What follows from events, how far, and how it is built again.</summary>
public static class Rebuilding
{
    /// <summary>Every read model and the table in which it lies; all can be deleted and built again.</summary>
    internal static IReadOnlyList<(string Name, string Table)> Models(IDocumentStore store) =>
        [
            .. store
                .Options.Events.Projections()
                .Select(p => p.Name)
                .Order(StringComparer.Ordinal)
                .Select(name => (name, $"mt_doc_{StoredName(name)}")),
        ];

    private static string StoredName(string model) =>
        model switch
        {
            "Timeline" => nameof(TimelineEntry).ToLowerInvariant(),
            // What digests were called when the first store was made.
            nameof(Digest) => "bulletin",
            _ => model.ToLowerInvariant(),
        };

    /// <summary>How far each read model is that follows behind the history.</summary>
    public static async Task<IReadOnlyList<ReadModelLag>> Lag(IWholeHistory store, CancellationToken ct)
    {
        var shards = await store.Advanced.AllProjectionProgress(null, ct);
        var high = shards.FirstOrDefault(s => s.ShardName == "HighWaterMark")?.Sequence ?? 0;
        return
        [
            .. shards
                .Where(s => s.ShardName != "HighWaterMark")
                .OrderBy(s => s.ShardName, StringComparer.Ordinal)
                .Select(s => new ReadModelLag(s.ShardName.Split(':')[0], s.Sequence, Math.Max(0, high - s.Sequence))),
        ];
    }
}
