using BackHistory.History;
using JasperFx.Events;

namespace BackHistory.Store;

/// <summary>
/// One command on two streams in one transaction: for what must not stand half done, because others decide by either half. Both streams
/// are saved at the version at which they were read, or nothing is; so neither half rests on what somebody else changed in between.
/// </summary>
public sealed partial class Commands
{
    /// <param name="decide">Pure; given both states and all events of the first stream. May be called again when another writer came
    /// first.</param>
    /// <returns>The outcome for the second stream; a demanded version is that of the first.</returns>
    public Task<Outcome> ExecuteOnBoth<TState>(
        CommandContext context,
        Guid firstId,
        Guid secondId,
        Func<TState?, TState?, IReadOnlyList<object>, DecidedOnBoth> decide,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> => Attempt(context, secondId, () => OnceOnBoth(context, firstId, secondId, decide, ct), ct);

    private async Task<Outcome> OnceOnBoth<TState>(
        CommandContext context,
        Guid firstId,
        Guid secondId,
        Func<TState?, TState?, IReadOnlyList<object>, DecidedOnBoth> decide,
        CancellationToken ct
    )
        where TState : class, IFolded<TState>
    {
        await using var session = Open(context);
        // Streams are written in the order in which they were fetched: always the same one first, so that two who come crosswise do not
        // wait for each other.
        var streams = new Dictionary<Guid, IEventStream<TState>>();
        foreach (var id in new[] { firstId, secondId }.Where(id => id != Guid.Empty).Order())
            streams[id] = await session.Events.FetchForWriting<TState>(id, ct);
        var (first, second) = (streams.GetValueOrDefault(firstId), streams.GetValueOrDefault(secondId));
        if (context.ExpectedVersion is { } expected && (first?.CurrentVersion ?? 0) != expected)
            return Stale(firstId, first?.CurrentVersion);
        var history = first?.CurrentVersion is > 0 and { } upTo
            ? (await session.Events.FetchStreamAsync(firstId, upTo, token: ct)).Select(e => e.Data).ToList()
            : [];
        var decided = decide(first?.Aggregate, second?.Aggregate, history);
        if (decided.Refused is { } refused)
            return new Outcome(secondId, second?.CurrentVersion ?? 0, 0, refused);
        if (first is null || second is null)
            return new Outcome(secondId, 0, 0, CommandRefusals.NoId);
        first.AppendMany(decided.First);
        second.AppendMany(decided.Second);
        return await Save(session, context, secondId, (second.CurrentVersion ?? 0) + decided.Second.Count, ct);
    }
}
