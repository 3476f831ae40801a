using JasperFx;
using JasperFx.Events.Projections;
using Marten.Events.Daemon.Coordination;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace BackHistory.Store.Rebuilds;

/// <summary>
/// Whether the read models move: each look is one query, whatever the number of practices, and is compared with the looks before it. One
/// that stands behind the history without moving for a minute stands still, as does one whose daemon gave up on it.
/// </summary>
public sealed class ReadModelWatch(
    IWholeHistory store,
    [FromKeyedServices("owner")] NpgsqlDataSource owner,
    TimeProvider time,
    IServiceProvider services
)
{
    /// <summary>A batch of tracings is measured in seconds; a paused shard tries again after some.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    /// <summary>The shard that counts up to where no event can appear any more; the others follow it.</summary>
    private const string HighWater = "HighWaterMark";

    private readonly Lock _gate = new();
    private readonly Dictionary<string, (long Position, long Since)> _behind = new(StringComparer.Ordinal);

    /// <summary>How far each read model has followed, and which stand still.</summary>
    public async Task<(IReadOnlyList<StandingReadModel> Standing, long Last, long Behind)> Look(CancellationToken ct)
    {
        var (positions, last) = await Positions(ct);
        var high = positions.GetValueOrDefault(HighWater);
        var stopped = Stopped();
        var standing = new List<StandingReadModel>();
        var least = last;
        lock (_gate)
        {
            foreach (var name in Followers().Append(HighWater))
            {
                var position = positions.GetValueOrDefault(name);
                if (name != HighWater)
                    least = Math.Min(least, position);
                var goal = name == HighWater ? last : high;
                if (position >= goal)
                {
                    _behind.Remove(name);
                    continue;
                }

                if (!_behind.TryGetValue(name, out var before) || before.Position != position)
                    _behind[name] = before = (position, time.GetTimestamp());
                var since = time.GetElapsedTime(before.Since);
                if (since < Patience && !stopped.Contains(name))
                    continue;
                standing.Add(new StandingReadModel(name == HighWater ? null : name, position, goal - position, since));
            }
        }

        return (standing, last, last - least);
    }

    /// <summary>The read models that are kept up behind the history.</summary>
    private IEnumerable<string> Followers() =>
        store.Options.Events.Projections().Where(p => p.Lifecycle == ProjectionLifecycle.Async).Select(p => p.Name);

    private async Task<(Dictionary<string, long> Positions, long Last)> Positions(CancellationToken ct)
    {
        const string Sql = """
            select name, last_seq_id from history.mt_event_progression
            union all select '', coalesce(max(seq_id), 0) from history.mt_events
            """;
        await using var command = owner.CreateCommand(Sql);
        await using var reader = await command.ExecuteReaderAsync(ct);
        var positions = new Dictionary<string, long>(StringComparer.Ordinal);
        while (await reader.ReadAsync(ct))
            positions[reader.GetString(0).Split(':')[0]] = reader.GetInt64(1);
        return (positions, positions[""]);
    }

    /// <summary>What the daemon of this process gave up on; nothing where another process runs it.</summary>
    private HashSet<string> Stopped()
    {
        if (services.GetService<IProjectionCoordinator<IWholeHistory>>() is not { } coordinator)
            return [];
        var agents = coordinator.DaemonForMainDatabase().CurrentAgents();
        return agents.Where(a => a.Status == AgentStatus.Stopped).Select(a => a.Name.Name).ToHashSet(StringComparer.Ordinal);
    }
}
