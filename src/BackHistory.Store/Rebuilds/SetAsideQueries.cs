using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using NpgsqlTypes;

namespace BackHistory.Store.Rebuilds;

/// <summary>
/// What was set aside in a practice: by the folds, which say so in their documents, and by the daemon, which notes what it could not even
/// read. The practice comes first in every question.
/// </summary>
public sealed class SetAsideQueries(IDocumentStore store, [FromKeyedServices("owner")] NpgsqlDataSource owner)
{
    private const int Most = 500;

    private const string NotRead = "It could not be read: its bytes are none that this release knows.";

    /// <summary>Of one horse, or of the practice; nothing once it was withdrawn, corrected or worked out after all.</summary>
    public async Task<IReadOnlyList<SetAside>> SetAsideIn(string practice, Guid? horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var visits = session.Query<VisitRecord>().Where(v => v.NotWhole == true);
        var horses = session.Query<HorseProfile>().Where(h => h.NotWhole == true);
        if (horseId is { } horse)
            (visits, horses) = (visits.Where(v => v.HorseId == horse), horses.Where(h => h.Id == horse));
        var found = new List<(Guid? Event, SetAside Aside)>();
        foreach (var v in await visits.Take(Most).ToListAsync(ct))
        {
            foreach (var e in v.Entries.Where(e => e.SetAside is not null))
                found.Add((null, new SetAside(v.HorseId, v.Id, e.EntryId, AliasOf(e.Kind), v.RecordedAt, e.SetAside!)));
            foreach (var a in v.SetAside ?? [])
                found.Add((a.EventId, new SetAside(v.HorseId, v.Id, null, a.What, a.RecordedAt, a.Why)));
        }

        foreach (var h in await horses.Take(Most).ToListAsync(ct))
        foreach (var a in h.SetAside!)
            found.Add((a.EventId, new SetAside(h.Id, null, null, a.What, a.RecordedAt, a.Why)));
        found.AddRange(await Unread(practice, horseId, ct));
        // Two read models that could not work the same event out say it once.
        return [.. found.DistinctBy(f => f.Event ?? f.Aside.EntryId).Select(f => f.Aside).OrderBy(a => a.RecordedAt)];
    }

    /// <summary>
    /// Events whose bytes the daemon could not read. The store is asked as a whole, since the daemon notes for all practices in one table.
    /// </summary>
    private async Task<IReadOnlyList<(Guid?, SetAside)>> Unread(string practice, Guid? horseId, CancellationToken ct)
    {
        const string Sql = """
            select distinct e.id, s.type, e.stream_id, e.type, e.timestamp, e.data ->> 'visitId', e.data ->> 'horseId'
            from history.mt_doc_deadletterevent d
            join history.mt_events e on e.seq_id = (d.data ->> 'eventSequence')::bigint
            join history.mt_streams s on s.id = e.stream_id and s.tenant_id = e.tenant_id
            where e.tenant_id = $1 and ($2::uuid is null or e.stream_id = $2 or e.data ->> 'horseId' = $2::text)
            limit 500
            """;
        await using var command = owner.CreateCommand(Sql);
        command.Parameters.Add(new NpgsqlParameter { Value = practice });
        command.Parameters.Add(new NpgsqlParameter { Value = (object?)horseId ?? DBNull.Value, NpgsqlDbType = NpgsqlDbType.Uuid });
        await using var reader = await command.ExecuteReaderAsync(ct);
        var found = new List<(Guid?, SetAside)>();
        while (await reader.ReadAsync(ct))
        {
            var horse = reader.GetString(1) == "horse" ? reader.GetGuid(2) : Id(reader, 6);
            var recorded = await reader.GetFieldValueAsync<DateTimeOffset>(4, ct);
            found.Add((reader.GetGuid(0), new SetAside(horse, Id(reader, 5), null, reader.GetString(3), recorded, NotRead)));
        }

        return found;
    }

    private static Guid? Id(NpgsqlDataReader reader, int column) =>
        !reader.IsDBNull(column) && Guid.TryParse(reader.GetString(column), out var id) ? id : null;

    private static string AliasOf(string kind) =>
        kind switch
        {
            "cross-section" => "cross_section_traced",
            "topline" => "topline_traced",
            "girth" => "girth_taped",
            _ => kind,
        };
}
