namespace BackHistory.Store;

/// <summary>How far the read models are behind the history.</summary>
public sealed class Progress(IWholeHistory store)
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(50);

    /// <summary>The position up to which every read model has followed.</summary>
    public async Task<long> ReadModels(CancellationToken ct)
    {
        var shards = await store.Advanced.AllProjectionProgress(null, ct);
        var known = shards.Where(s => s.ShardName != "HighWaterMark").Select(s => s.Sequence).ToList();
        return known.Count == 0 ? 0 : known.Min();
    }

    /// <summary>The position up to which no event can appear any more: transactions that took an earlier number are over.</summary>
    public async Task<long> Settled(CancellationToken ct) =>
        (await store.Advanced.AllProjectionProgress(null, ct)).FirstOrDefault(s => s.ShardName == "HighWaterMark")?.Sequence ?? 0;

    /// <summary>The position of the last event.</summary>
    /// <remarks>Not the last number that was handed out: one that a refused transaction took is never reached.</remarks>
    public async Task<long> Last(CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return (await session.AdvancedSql.QueryAsync<long>("select coalesce(max(seq_id), 0) from history.mt_events", ct))[0];
    }

    /// <summary>The last number that was handed out, to an event or to one that was refused: no position beyond it was ever given to
    /// anybody.</summary>
    public async Task<long> HandedOut(CancellationToken ct)
    {
        await using var session = store.QuerySession();
        return (await session.AdvancedSql.QueryAsync<long>("select last_value from history.mt_events_sequence", ct))[0];
    }

    /// <summary>Waits until the read models have followed to a position, for a reader who wants to see what they just wrote.</summary>
    /// <returns>False when they had not within the time.</returns>
    public async Task<bool> Wait(long position, TimeSpan most, TimeProvider time, CancellationToken ct)
    {
        var from = time.GetTimestamp();
        while (await ReadModels(ct) < position)
        {
            if (time.GetElapsedTime(from) > most)
                return false;
            await Task.Delay(Step, time, ct);
        }

        return true;
    }
}
