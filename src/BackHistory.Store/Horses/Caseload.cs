using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Events;
using BackHistory.Trends.SinceFit;
using Npgsql;

namespace BackHistory.Store.Horses;

/// <summary>The caseload, paged by place over indexes; nothing counts rows to find a page.</summary>
public sealed class Caseload(PracticeDatabase database)
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    /// <summary>How many horses of a filter stand in each state: whatever it says of states itself is left out.</summary>
    public async Task<CaseloadCounts> Counts(string practice, CaseloadFilter filter, CancellationToken ct)
    {
        if (string.IsNullOrWhiteSpace(filter.Text) && filter.YardId is null && filter.Reminder is null)
            return await Counts(practice, ct);
        var values = new List<object> { practice };
        var narrowed = Narrowed(
            filter,
            value =>
            {
                values.Add(value);
                return string.Create(CultureInfo.InvariantCulture, $"${values.Count}");
            }
        );
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(
            $"""
            select a.rank, count(*)
            from history.mt_doc_horseprofile h
            left join history.mt_doc_assessment a on a.tenant_id = h.tenant_id and a.id = h.id
            left join history.mt_doc_person o on o.tenant_id = h.tenant_id and o.id = h.owner_id
            left join history.mt_doc_yard y on y.tenant_id = h.tenant_id and y.id = h.yard_id
            where h.tenant_id = $1 and not h.gone{narrowed}
            group by 1
            """,
            connection
        );
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        var (counts, unseen) = (new Dictionary<int, int>(), 0);
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
        {
            var count = (int)reader.GetInt64(1);
            if (reader.IsDBNull(0))
                unseen = count;
            else
                counts[reader.GetInt32(0)] = count;
        }

        return CountsFrom(counts, unseen);
    }

    public async Task<CaseloadPage> Page(string practice, CaseloadFilter filter, CaseloadPlace? after, int size, CancellationToken ct)
    {
        var sql = new StringBuilder(
            """
            select h.data, a.data, o.data, y.data, KEY
            from history.mt_doc_horseprofile h
            JOIN history.mt_doc_assessment a on a.tenant_id = h.tenant_id and a.id = h.id
            left join history.mt_doc_person o on o.tenant_id = h.tenant_id and o.id = h.owner_id
            left join history.mt_doc_yard y on y.tenant_id = h.tenant_id and y.id = h.yard_id
            where h.tenant_id = $1 and not h.gone
            """
        );
        var values = new List<object> { practice };
        string Parameter(object value)
        {
            values.Add(value);
            return string.Create(CultureInfo.InvariantCulture, $"${values.Count}");
        }

        // A horse that was never looked at counts as unknown in every order; in the order of urgency it comes with the next evaluation,
        // seconds later.
        var (key, direction, join) = filter.Order switch
        {
            CaseloadOrder.Name => ($"h.name {NameOrder.By}", "asc", "left join"),
            CaseloadOrder.LastVisit => ("coalesce(h.last_visit_on, date '0001-01-01')", "asc", "left join"),
            _ => ("a.urgency", "asc", "join"),
        };
        var id = filter.Order == CaseloadOrder.Urgency ? "a.id" : "h.id";
        if (filter.Order == CaseloadOrder.Urgency)
            sql.Append(" and a.tenant_id = $1");
        if (filter.States.Count > 0)
        {
            var ranks = filter.States.Select(Assessing.RankOf).ToArray();
            sql.Append(
                CultureInfo.InvariantCulture,
                $" and coalesce(a.rank, {Assessing.RankOf(WatchState.Unknown)}) = any({Parameter(ranks)})"
            );
        }

        sql.Append(Narrowed(filter, Parameter));
        if (after is not null)
        {
            var cast = filter.Order == CaseloadOrder.LastVisit ? "::date" : "";
            sql.Append(CultureInfo.InvariantCulture, $" and ({key}, {id}) > ({Parameter(after.Key)}{cast}, {Parameter(after.Id)})");
        }

        sql.Append(CultureInfo.InvariantCulture, $" order by {key} {direction}, {id} {direction} limit {size + 1}");
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(
            sql.ToString().Replace("KEY", $"({key})::text", StringComparison.Ordinal).Replace("JOIN", join, StringComparison.Ordinal),
            connection
        );
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value });

        var rows = new List<(CaseloadRow Row, string Key)>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
        {
            rows.Add(
                (
                    new CaseloadRow(
                        Read<HorseProfile>(reader, 0)!,
                        Read<Assessment>(reader, 1),
                        Read<Person>(reader, 2),
                        Read<Yard>(reader, 3)
                    ),
                    reader.GetString(4)
                )
            );
        }

        var next = rows.Count > size ? new CaseloadPlace(rows[size - 1].Key, rows[size - 1].Row.Horse.Id) : null;
        return new CaseloadPage([.. rows.Take(size).Select(r => r.Row)], next);
    }

    /// <summary>Three looks into indexes, and rows only of horses that are gone: a practice may have a hundred thousand. Horses that are
    /// gone keep what was last found of them, and are taken off.</summary>
    public async Task<CaseloadCounts> Counts(string practice, CancellationToken ct)
    {
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(
            """
            select rank, count(*) from history.mt_doc_assessment where tenant_id = $1 group by 1
            union all
            select a.rank, -count(*)
            from history.mt_doc_horseprofile h join history.mt_doc_assessment a on a.tenant_id = h.tenant_id and a.id = h.id
            where h.tenant_id = $1 and h.gone group by 1
            union all
            select null, count(*) from history.mt_doc_horseprofile where tenant_id = $1 and not gone
            """,
            connection
        );
        command.Parameters.Add(new NpgsqlParameter { Value = practice });
        var (counts, living) = (new Dictionary<int, int>(), 0);
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
        {
            var count = (int)reader.GetInt64(1);
            if (reader.IsDBNull(0))
                living = count;
            else
                counts[reader.GetInt32(0)] = counts.GetValueOrDefault(reader.GetInt32(0)) + count;
        }

        return CountsFrom(counts, Math.Max(0, living - counts.Values.Sum()));
    }

    private static CaseloadCounts CountsFrom(Dictionary<int, int> byRank, int unseen)
    {
        return new CaseloadCounts(Of(WatchState.Refit), Of(WatchState.Unknown), Of(WatchState.Watch), Of(WatchState.Steady), unseen);

        int Of(WatchState state) => byRank.GetValueOrDefault(Assessing.RankOf(state));
    }

    /// <summary>What a filter asks besides the state, as conditions on a horse <c>h</c>, its owner <c>o</c> and
    /// its yard <c>y</c>.</summary>
    private static string Narrowed(CaseloadFilter filter, Func<object, string> parameter)
    {
        var sql = new StringBuilder();
        if (!string.IsNullOrWhiteSpace(filter.Text))
            sql.Append(CultureInfo.InvariantCulture, $" and {new TextSearch(filter.Text).HorseOwnerOrYard(parameter)}");
        if (filter.YardId is { } yard)
            sql.Append(CultureInfo.InvariantCulture, $" and h.yard_id = {parameter(yard)}");
        if (filter.Reminder is { } wanted)
            sql.Append(CultureInfo.InvariantCulture, $" and h.has_reminder = {parameter(wanted)}");
        return sql.ToString();
    }

    private static T? Read<T>(NpgsqlDataReader reader, int column)
        where T : class => reader.IsDBNull(column) ? null : JsonSerializer.Deserialize<T>(reader.GetString(column), Json);
}
