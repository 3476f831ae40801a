using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.Store.Events;
using Npgsql;

namespace BackHistory.Store.Reminders.Lists;

/// <summary>Reminders as they are worked through: with horse, owner and yard, searched and sorted, paged by place.</summary>
public sealed class ReminderList(PracticeDatabase database)
{
    private const string Tables = """
        from history.mt_doc_reminder r
        left join history.mt_doc_horseprofile h on h.tenant_id = r.tenant_id and h.id = r.horse_id
        left join history.mt_doc_person o on o.tenant_id = h.tenant_id and o.id = h.owner_id
        left join history.mt_doc_yard y on y.tenant_id = h.tenant_id and y.id = h.yard_id
        where r.tenant_id = $1
        """;

    /// <summary>Seconds since 1970 of a moment as the document holds it.</summary>
    private const string Raised = "extract(epoch from (r.data ->> 'raisedAt')::timestamptz)";

    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    public async Task<ReminderPage> Page(
        string practice,
        ReminderState state,
        ReminderFilter filter,
        ReminderOrder order,
        ReminderPlace? after,
        int size,
        CancellationToken ct
    )
    {
        // Every order is one number that rises, so that one index of places serves all.
        var key = order switch
        {
            ReminderOrder.Newest => $"-{Raised}",
            ReminderOrder.Oldest => Raised,
            ReminderOrder.Day => "coalesce(extract(epoch from (r.data ->> 'bookedFor')::timestamptz), 1e12)",
            _ => $"case when r.data ->> 'answer' is null then 1e12 - {Raised} "
                + $"else -coalesce(extract(epoch from (r.data ->> 'answeredAt')::timestamptz), {Raised}) end",
        };
        var sql = new StringBuilder($"select r.data, h.data, o.data, y.data, ({key})::text {Tables}");
        var values = new List<object> { practice };
        sql.Append(CultureInfo.InvariantCulture, $" and r.state = {Parameter(values, state.ToString())}");
        Narrow(sql, values, filter);
        if (after is not null)
            sql.Append(
                CultureInfo.InvariantCulture,
                $" and ({key}, r.id) > ({Parameter(values, decimal.Parse(after.Key, CultureInfo.InvariantCulture))}, "
                    + $"{Parameter(values, after.Id)})"
            );
        sql.Append(CultureInfo.InvariantCulture, $" order by ({key}), r.id limit {size + 1}");
        await using var connection = await database.Open(practice, ct);
        await using var command = Command(connection, sql, values);
        var rows = new List<(ReminderRow Row, string Key)>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            rows.Add(
                (
                    new ReminderRow(
                        Read<Reminder>(reader, 0)!,
                        Read<HorseProfile>(reader, 1),
                        Read<Person>(reader, 2),
                        Read<Yard>(reader, 3)
                    ),
                    reader.GetString(4)
                )
            );
        var next = rows.Count > size ? new ReminderPlace(rows[size - 1].Key, rows[size - 1].Row.Reminder.Id) : null;
        return new ReminderPage([.. rows.Take(size).Select(r => r.Row)], next);
    }

    /// <summary>Some of them by their ids, as a page shows them; what is not there is left out.</summary>
    public async Task<IReadOnlyList<ReminderRow>> Some(string practice, IReadOnlyList<Guid> ids, CancellationToken ct)
    {
        var values = new List<object> { practice };
        var sql = new StringBuilder($"select r.data, h.data, o.data, y.data {Tables}");
        sql.Append(
            CultureInfo.InvariantCulture,
            $" and r.id = any({Parameter(values, ids.ToArray())}) order by h.name {NameOrder.By}, r.id"
        );
        await using var connection = await database.Open(practice, ct);
        await using var command = Command(connection, sql, values);
        var rows = new List<ReminderRow>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            rows.Add(
                new ReminderRow(Read<Reminder>(reader, 0)!, Read<HorseProfile>(reader, 1), Read<Person>(reader, 2), Read<Yard>(reader, 3))
            );
        return rows;
    }

    /// <summary>How many stand in each state, by the same filter; a state without any is left out.</summary>
    public async Task<IReadOnlyDictionary<ReminderState, int>> Counts(string practice, ReminderFilter filter, CancellationToken ct)
    {
        var values = new List<object> { practice };
        var sql = new StringBuilder($"select r.state, count(*) {Tables}");
        Narrow(sql, values, filter);
        sql.Append(" group by 1");
        await using var connection = await database.Open(practice, ct);
        await using var command = Command(connection, sql, values);
        var counts = new Dictionary<ReminderState, int>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            if (Enum.TryParse<ReminderState>(reader.GetString(0), out var state))
                counts[state] = (int)reader.GetInt64(1);
        return counts;
    }

    private static void Narrow(StringBuilder sql, List<object> values, ReminderFilter filter)
    {
        if (!string.IsNullOrWhiteSpace(filter.Text))
        {
            var condition = new TextSearch(filter.Text).HorseOwnerOrYard(value => Parameter(values, value));
            sql.Append(CultureInfo.InvariantCulture, $" and {condition}");
        }

        if (filter.YardId is { } yard)
            sql.Append(CultureInfo.InvariantCulture, $" and h.yard_id = {Parameter(values, yard)}");
        if (filter.Rules is { Count: > 0 } rules)
            sql.Append(
                CultureInfo.InvariantCulture,
                $" and r.data ->> 'rule' = any({Parameter(values, rules.Select(r => r.ToString()).ToArray())})"
            );
        if (filter.Answered is { } answered)
            sql.Append(answered ? " and r.data ->> 'answer' is not null" : " and r.data ->> 'answer' is null");
        if (filter.Fitter is { } fitter)
            sql.Append(CultureInfo.InvariantCulture, $" and r.data ->> 'fitter' = {Parameter(values, fitter.ToString())}");
    }

    private static string Parameter(List<object> values, object value)
    {
        values.Add(value);
        return string.Create(CultureInfo.InvariantCulture, $"${values.Count}");
    }

    private static NpgsqlCommand Command(NpgsqlConnection connection, StringBuilder sql, List<object> values)
    {
        var command = new NpgsqlCommand(sql.ToString(), connection);
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        return command;
    }

    private static T? Read<T>(NpgsqlDataReader reader, int column)
        where T : class => reader.IsDBNull(column) ? null : JsonSerializer.Deserialize<T>(reader.GetString(column), Json);
}
