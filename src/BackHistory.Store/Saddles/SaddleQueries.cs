using BackHistory.History.Saddles;
using BackHistory.History.Timeline;
using Marten;
using Npgsql;

namespace BackHistory.Store.Saddles;

/// <summary>What is asked about saddles.</summary>
public sealed class SaddleQueries(IDocumentStore store, PracticeDatabase database)
{
    public async Task<Saddle?> Load(string practice, Guid saddleId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Saddle>(saddleId, ct);
    }

    public async Task<IReadOnlyList<Saddle>> Load(string practice, IEnumerable<Guid> saddleIds, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadManyAsync<Saddle>(ct, saddleIds.Distinct().ToArray());
    }

    /// <summary>Since when it is its owner's, and of which day each of its files is: days stand in the events alone, since nothing is
    /// decided by them.</summary>
    public async Task<(DateTimeOffset? OwnedSince, IReadOnlyDictionary<Guid, DateTimeOffset> Files)> Days(
        string practice,
        Guid saddleId,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var events = (await session.Events.FetchStreamAsync(saddleId, token: ct)).Select(e => e.Data).ToList();
        var owned = events
            .Select(e =>
                e switch
                {
                    SaddleRegistered { OwnerId: not null } d => d.TakenAt,
                    SaddleOwnerChanged d => d.TakenAt,
                    _ => (DateTimeOffset?)null,
                }
            )
            .LastOrDefault(at => at is not null);
        var files = new Dictionary<Guid, DateTimeOffset>();
        foreach (var e in events.OfType<SaddleFileAttached>())
            files[e.File.FileId] = e.TakenAt;
        return (owned, files);
    }

    /// <summary>By label, from a place on.</summary>
    public async Task<IReadOnlyList<Saddle>> ByLabel(string practice, (string Label, Guid Id)? after, int size, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        const string Label = $"(d.data ->> 'label') {NameOrder.By}";
        const string InOrder = $"order by {Label}, d.id limit ?";
        return after is { } c
            ? await session.QueryAsync<Saddle>(
                $"where d.tenant_id = ? and ({Label}, d.id) > (?, ?) {InOrder}",
                ct,
                practice,
                c.Label,
                c.Id,
                size
            )
            : await session.QueryAsync<Saddle>($"where d.tenant_id = ? {InOrder}", ct, practice, size);
    }

    /// <summary>By label, from a place on: those in whose label, tree, panel, girthing, owner's or horses' names a text stands, and
    /// that are
    /// where is asked.</summary>
    /// <param name="text">Empty for all.</param>
    public async Task<IReadOnlyList<Saddle>> Found(
        string practice,
        string text,
        SaddlePlace place,
        (string Label, Guid Id)? after,
        int size,
        CancellationToken ct
    )
    {
        const string Sql = $$"""
            with horses as materialized (
              select h.id::text as id from history.mt_doc_horseprofile h where h.tenant_id = $1 and $2 <> '' and h.name ilike $3
            ), saddles as (
              select s.id, s.data ->> 'label' as label, s.data,
                array(
                  select w ->> 'horseId' from jsonb_array_elements(coalesce(s.data -> 'work', '[]')) w
                  where not coalesce((w ->> 'withdrawn')::boolean, false)
                    and not coalesce(s.data -> 'takenOff', '{}') ? (w ->> 'horseId')
                  union select jsonb_array_elements_text(coalesce(s.data -> 'notYetSet', '[]'))
                ) as on_horses,
                array(
                  select t ->> 'horseId' from jsonb_array_elements(coalesce(s.data -> 'trials', '[]')) t where t ->> 'kept' is null
                ) as on_trial
              from history.mt_doc_saddle s
              where s.tenant_id = $1 and coalesce((s.data ->> 'withdrawn')::boolean, false) = ($4 = 'Withdrawn')
            )
            select s.id from saddles s
            where ($5::text is null or (s.label {{NameOrder.By}}, s.id) > ($5, $6))
              and case $4
                when 'OnHorse' then cardinality(s.on_horses) > 0
                when 'OnTrial' then cardinality(s.on_trial) > 0
                when 'OnNone' then cardinality(s.on_horses) = 0 and cardinality(s.on_trial) = 0
                else true end
              and ($2 = '' or s.label ilike $3 or s.data ->> 'tree' ilike $3 or s.data ->> 'panel' ilike $3
                or s.data ->> 'girthing' ilike $3
                or exists (select 1 from history.mt_doc_person p
                  where p.tenant_id = $1 and p.id = (s.data ->> 'ownerId')::uuid and p.data ->> 'name' ilike $3)
                or exists (select 1 from horses h where h.id = any(s.on_horses) or h.id = any(s.on_trial)))
            order by s.label {{NameOrder.By}}, s.id limit $7
            """;
        var wanted = text.Trim();
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(Sql, connection);
        foreach (
            object value in (object[])
                [
                    practice,
                    wanted,
                    new TextSearch(wanted).Anywhere,
                    place.ToString(),
                    (object?)after?.Label ?? DBNull.Value,
                    after?.Id ?? Guid.Empty,
                    size,
                ]
        )
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        var ids = new List<Guid>();
        await using (var reader = await command.ExecuteReaderAsync(ct))
            while (await reader.ReadAsync(ct))
                ids.Add(reader.GetGuid(0));
        var found = (await Load(practice, ids, ct)).ToDictionary(s => s.Id);
        return [.. ids.Where(found.ContainsKey).Select(id => found[id])];
    }

    /// <summary>Everything that happened to a saddle by true time, newest first.</summary>
    public async Task<IReadOnlyList<TimelineEntry>> History(string practice, Saddle saddle, int most, CancellationToken ct)
    {
        var (id, horses) = (saddle.Id, saddle.EverOn().ToArray());
        await using var session = store.QuerySession(practice);
        return await session
            .Query<TimelineEntry>()
            .Where(t => horses.Contains(t.HorseId) && t.SaddleId == id)
            .OrderByDescending(t => t.TakenAt)
            .ThenByDescending(t => t.Sequence)
            .Take(most)
            .ToListAsync(ct);
    }
}
