using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Timeline;
using BackHistory.Store.Events;
using BackHistory.Store.Horses;
using BackHistory.Store.Projections;
using JasperFx.Events;
using Marten;
using Marten.Services;
using Npgsql;

namespace BackHistory.Store.Rebuilds;

/// <summary>
/// Builds what people read of horses anew beside the living service, horse by horse: readers see the old documents until the new ones
/// stand, and never a gap. A horse's documents are locked, its events folded up to where the daemon has followed, and what is other is
/// replaced. The practice's months follow. The daemon may have loaded a document before and write it after: another pass finds that,
/// until a pass finds nothing.
/// </summary>
public sealed class ShadowRebuild(IDocumentStore store, IWholeHistory whole, PracticeDatabase database)
{
    private const int MostPasses = 5;

    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    /// <param name="tell">Called after every horse.</param>
    public async Task<RebuildRun> Run(string practice, DateTimeOffset now, Func<RebuildRun, Task> tell, CancellationToken ct)
    {
        var streams = await Streams(practice, ct);
        var families = await Families(practice, ct);
        var run = new RebuildRun(RebuildRun.TheOne, now, families.Sum(f => f.Count));
        for (var changed = 1; changed > 0 && run.Passes < MostPasses; )
        {
            (changed, run) = (0, run with { Done = 0, Unreadable = 0, Passes = run.Passes + 1 });
            foreach (var family in families)
            {
                ct.ThrowIfCancellationRequested();
                try
                {
                    changed += await Rebuild(practice, family, streams, ct);
                }
                catch (Exception fault) when (SetAsideRetry.Unreadable(fault))
                {
                    run = run with { Unreadable = run.Unreadable + family.Count };
                }

                run = run with { Done = run.Done + family.Count };
                await tell(run with { Changed = run.Changed + changed });
            }

            changed += await Months(practice, ct);
            run = run with { Changed = run.Changed + changed };
        }

        return run;
    }

    /// <summary>A horse and the second registrations that were taken into it: a visit may have moved between them.</summary>
    private async Task<IReadOnlyList<IReadOnlyList<Guid>>> Families(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var horses = (await session.Query<Horse>().ToListAsync(ct)).ToDictionary(h => h.Id);
        return [.. horses.Values.GroupBy(Root).Select(g => (IReadOnlyList<Guid>)[.. g.Select(h => h.Id).Order()]).OrderBy(f => f[0])];

        Guid Root(Horse horse)
        {
            for (var steps = 0; steps < horses.Count && horse.MergedInto is { } into && horses.TryGetValue(into, out var next); steps++)
                horse = next;
            return horse.Id;
        }
    }

    /// <summary>The saddles and reminders that each horse's documents follow, from the events themselves: documents may be what is
    /// wrong.</summary>
    private async Task<ILookup<Guid, Guid>> Streams(string practice, CancellationToken ct)
    {
        const string Sql = """
            select distinct h::uuid, stream_id
            from history.mt_events e,
              lateral (values (coalesce(data ->> 'horseId', data ->> 'HorseId')), (data ->> 'fromHorseId')) as named(h)
            where e.tenant_id = $1 and h is not null
            """;
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(Sql, connection) { Parameters = { new() { Value = practice } }, CommandTimeout = 0 };
        await using var reader = await command.ExecuteReaderAsync(ct);
        var found = new List<(Guid Horse, Guid Stream)>();
        while (await reader.ReadAsync(ct))
            found.Add((reader.GetGuid(0), reader.GetGuid(1)));
        return found.ToLookup(f => f.Horse, f => f.Stream);
    }

    /// <returns>How many documents were other than they should be.</returns>
    private async Task<int> Rebuild(string practice, IReadOnlyList<Guid> family, ILookup<Guid, Guid> streams, CancellationToken ct)
    {
        await using var connection = await database.Open(practice, ct);
        await using var transaction = await connection.BeginTransactionAsync(ct);
        await Lock(connection, practice, family, ct);
        // After the lock: what the daemon has committed of these documents is counted here, and what it has not cannot be committed
        // before this is.
        var reached = (await Rebuilding.Lag(whole, ct)).ToDictionary(l => l.Name, l => l.Position, StringComparer.Ordinal);
        var options = SessionOptions.ForTransaction(transaction, false);
        options.TenantId = practice;
        await using var session = store.LightweightSession(options);
        var events = new List<IEvent>();
        foreach (var stream in family.SelectMany(h => streams[h].Append(h)).Distinct())
            events.AddRange(await session.Events.FetchStreamAsync(stream, token: ct));
        events.Sort((a, b) => a.Sequence.CompareTo(b.Sequence));

        var ids = family.ToArray();
        var changed = 0;
        foreach (var horse in family)
        {
            HorseProfile? profile = null;
            foreach (var e in UpTo(events, reached, nameof(HorseProfile)).Where(e => PastQueries.Concerns(e.Data, horse, e.StreamId)))
                profile = HorseProfileProjection.Fold(profile, horse, e);
            changed += Put(
                session,
                profile is null ? [] : [profile],
                await session.Query<HorseProfile>().Where(p => p.Id == horse).ToListAsync(ct),
                p => p.Id
            );
        }

        var visits = UpTo(events, reached, nameof(VisitRecord))
            .Where(e => e.Data is IVisitEvent)
            .GroupBy(e => ((IVisitEvent)e.Data).VisitId)
            .Select(v => v.Aggregate((VisitRecord?)null, VisitRecordProjection.Fold))
            .OfType<VisitRecord>();
        changed += Put(session, visits, await session.Query<VisitRecord>().Where(v => v.HorseId.IsOneOf(ids)).ToListAsync(ct), v => v.Id);
        var lines = family.SelectMany(h =>
            PastQueries.TimelineOf([.. UpTo(events, reached, "Timeline").Where(e => PastQueries.Concerns(e.Data, h, e.StreamId))], h)
        );
        changed += Put(session, lines, await session.Query<TimelineEntry>().Where(t => t.HorseId.IsOneOf(ids)).ToListAsync(ct), t => t.Id);
        await session.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return changed;
    }

    /// <summary>The practice's months, counted where the events lie.</summary>
    /// <returns>How many were other than they should be.</returns>
    private async Task<int> Months(string practice, CancellationToken ct)
    {
        await using var connection = await database.Open(practice, ct);
        await using var transaction = await connection.BeginTransactionAsync(ct);
        await Execute(connection, "select 1 from history.mt_doc_practicemonth where tenant_id = $1 order by id for update", ct, practice);
        var reached = (await Rebuilding.Lag(whole, ct))
            .Where(l => l.Name == nameof(PracticeMonth))
            .Select(l => l.Position)
            .FirstOrDefault();
        var months = new Dictionary<string, PracticeMonth>(StringComparer.Ordinal);
        await using (
            var command = new NpgsqlCommand(
                "select to_char(timestamp at time zone 'UTC', 'YYYY-MM'), type, count(*)::int from history.mt_events where tenant_id = "
                    + $"$1 and seq_id <= $2 and type <> '{WrittenEvents.Filler}' group by 1, 2",
                connection
            )
            {
                CommandTimeout = 0,
            }
        )
        {
            command.Parameters.Add(new NpgsqlParameter { Value = practice });
            command.Parameters.Add(new NpgsqlParameter { Value = reached });
            await using var reader = await command.ExecuteReaderAsync(ct);
            while (await reader.ReadAsync(ct))
                months[reader.GetString(0)] = PracticeMonth.Fold(
                    months.GetValueOrDefault(reader.GetString(0)),
                    reader.GetString(0),
                    EventAliases.Today(reader.GetString(1)),
                    reader.GetInt32(2)
                );
        }

        var options = SessionOptions.ForTransaction(transaction, false);
        options.TenantId = practice;
        await using var session = store.LightweightSession(options);
        var changed = Put(session, months.Values, await session.Query<PracticeMonth>().ToListAsync(ct), m => m.Id);
        await session.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return changed;
    }

    private static IEnumerable<IEvent> UpTo(IEnumerable<IEvent> events, Dictionary<string, long> reached, string model) =>
        reached.TryGetValue(model, out var position) ? events.Where(e => e.Sequence <= position) : [];

    private static int Put<T, TId>(IDocumentSession session, IEnumerable<T> built, IReadOnlyList<T> stored, Func<T, TId> id)
        where T : class
        where TId : notnull
    {
        var before = stored.ToDictionary(id, d => JsonSerializer.Serialize(d, Json));
        var changed = 0;
        foreach (var document in built)
        {
            if (before.Remove(id(document), out var was) && was == JsonSerializer.Serialize(document, Json))
                continue;
            session.Store(document);
            changed++;
        }

        // What follows from no event any more.
        foreach (var gone in stored.Where(d => before.ContainsKey(id(d))))
            session.Delete(gone);
        return changed + before.Count;
    }

    private static async Task Lock(NpgsqlConnection connection, string practice, IReadOnlyList<Guid> family, CancellationToken ct)
    {
        foreach (var (table, column) in new[] { ("horseprofile", "id"), ("visitrecord", "horse_id"), ("timelineentry", "horse_id") })
        {
            await Execute(
                connection,
                $"select 1 from history.mt_doc_{table} where tenant_id = $1 and {column} = any($2) order by id for update",
                ct,
                practice,
                family.ToArray()
            );
        }
    }

    private static async Task Execute(NpgsqlConnection connection, string sql, CancellationToken ct, params object[] values)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync(ct);
    }
}
