using Npgsql;

namespace BackHistory.Store;

/// <summary>Finds horses, owners, yards and saddles by a part of what they are called.</summary>
public sealed class Find(PracticeDatabase database)
{
    private const int MostOfAKind = 20;
    private const int ShortestText = 2;

    /// <summary>Horses alone, as the search finds them.</summary>
    public async Task<IReadOnlyList<Found>> Horses(string practice, string text, CancellationToken ct) =>
        [.. (await ByText(practice, text, ct)).Where(f => f.Kind == FoundKind.Horse)];

    /// <returns>Those that begin with the text first; nothing for less than two letters, unless it is a saddle's number.</returns>
    public async Task<IReadOnlyList<Found>> ByText(string practice, string text, CancellationToken ct)
    {
        var wanted = text.Trim();
        if (wanted.Length == 0 || (wanted.Length < ShortestText && !char.IsDigit(wanted[0])))
            return [];
        var sql = $$"""
            (select 0 as kind, h.id, h.name as title, p.data ->> 'name' as more
             from history.mt_doc_horseprofile h
             left join history.mt_doc_person p on p.tenant_id = h.tenant_id and p.id = h.owner_id
             where h.tenant_id = $1 and not h.gone and {{TextSearch.Horse("$2", "$5")}}
             order by h.name ilike $3 desc, h.name {{NameOrder.By}}, h.id limit $4)
            union all
            (select 1, p.id, p.data ->> 'name',
             (select string_agg(h.name, ', ' order by h.name {{NameOrder.By}}) from history.mt_doc_horseprofile h
              where h.tenant_id = $1 and not h.gone and h.owner_id = p.id)
             from history.mt_doc_person p
             where p.tenant_id = $1 and p.data ->> 'role' in ('Owner', 'Rider') and {{TextSearch.Person("p", "$2", "$6")}}
             order by p.data ->> 'name' ilike $3 desc, (p.data ->> 'name') {{NameOrder.By}}, p.id limit $4)
            union all
            (select 2, y.id, y.data ->> 'name', y.data ->> 'town' from history.mt_doc_yard y
             where y.tenant_id = $1 and not coalesce((y.data ->> 'removed')::boolean, false) and {{TextSearch.Yard("$2")}}
             order by y.data ->> 'name' ilike $3 desc, (y.data ->> 'name') {{NameOrder.By}}, y.id limit $4)
            union all
            (select 3, s.id, s.data ->> 'label', s.data ->> 'tree' from history.mt_doc_saddle s
             where s.tenant_id = $1 and not coalesce((s.data ->> 'withdrawn')::boolean, false) and s.data ->> 'label' ilike $2
             order by s.data ->> 'label' ilike $3 desc, (s.data ->> 'label') {{NameOrder.By}}, s.id limit $4)
            union all
            (select 4, h.id, h.name, p.data ->> 'name'
             from history.mt_doc_horseprofile h
             left join history.mt_doc_person p on p.tenant_id = h.tenant_id and p.id = h.owner_id
             where h.tenant_id = $1 and h.gone and h.data ->> 'mergedInto' is null and {{TextSearch.Horse("$2", "$5")}}
             order by h.name ilike $3 desc, h.name {{NameOrder.By}}, h.id limit $4)
            """;
        var search = new TextSearch(wanted);
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(sql, connection);
        foreach (object value in (object[])[practice, search.Anywhere, search.Beginning, MostOfAKind, search.Identity, search.Telephone])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        var found = new List<Found>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            found.Add(
                new Found(
                    (FoundKind)reader.GetInt32(0),
                    reader.GetGuid(1),
                    reader.GetString(2),
                    await reader.IsDBNullAsync(3, ct) ? null : reader.GetString(3)
                )
            );
        return found;
    }
}
