using System.Globalization;
using System.Text.Json;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Caseload;
using BackHistory.Trends.Rules;
using Marten;
using Npgsql;

namespace BackHistory.Store.Practices;

/// <summary>What is asked about all horses of the practice together.</summary>
public sealed class OutlookQueries(IDocumentStore store, PracticeDatabase database)
{
    /// <summary>More horses change the picture of a distribution no longer.</summary>
    private const int MostHorses = 1500;

    /// <summary>A rate of change over less time than this is mostly noise.</summary>
    private const int LeastDays = 28;

    /// <summary>Each watched horse's chance of being past a limit now and after 1, 2, … months: that of its saddle that is worst
    /// off.</summary>
    public async Task<IReadOnlyList<IReadOnlyList<double>>> ChancesByMonth(string practice, CancellationToken ct)
    {
        const string Sql = """
            select a.data -> 'saddles' from history.mt_doc_assessment a
            join history.mt_doc_horseprofile h on h.tenant_id = a.tenant_id and h.id = a.id
            where a.tenant_id = $1 and not coalesce((h.data ->> 'gone')::boolean, false)
            """;
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(Sql, connection);
        command.Parameters.Add(new NpgsqlParameter { Value = practice });
        var horses = new List<IReadOnlyList<double>>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
        {
            using var saddles = JsonDocument.Parse(reader.GetString(0));
            var worst = saddles
                .RootElement.EnumerateArray()
                .Select(s => s.GetProperty("decision").GetProperty("pByMonth").EnumerateArray().Select(p => p.GetDouble()).ToArray())
                .Where(p => p.Length > 0)
                .MaxBy(p => p[0]);
            if (worst is not null)
                horses.Add(worst);
        }
        return horses;
    }

    /// <summary>Saddles set or altered in each of the last months, the current one included.</summary>
    public async Task<IReadOnlyList<MonthDone>> Done(string practice, DateOnly today, int months, CancellationToken ct)
    {
        var first = new DateOnly(today.Year, today.Month, 1).AddMonths(1 - months);
        const string Sql = """
            select substr(f ->> 'takenAt', 1, 7), count(*) from history.mt_doc_horseprofile h, jsonb_array_elements(h.data -> 'fits') f
            where h.tenant_id = $1 and f ->> 'takenAt' >= $2 group by 1
            """;
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(Sql, connection);
        command.Parameters.Add(new NpgsqlParameter { Value = practice });
        command.Parameters.Add(new NpgsqlParameter { Value = first.ToString("yyyy-MM", CultureInfo.InvariantCulture) });
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            counts[reader.GetString(0)] = (int)reader.GetInt64(1);
        return
        [
            .. Enumerable
                .Range(0, months)
                .Select(first.AddMonths)
                .Select(m => new MonthDone(m, counts.GetValueOrDefault(m.ToString("yyyy-MM", CultureInfo.InvariantCulture)))),
        ];
    }

    /// <summary>How one measure of every horse changed from visit to visit.</summary>
    public async Task<IReadOnlyList<ObservedChange>> Changes(
        string practice,
        string measure,
        string? station,
        WatchRules rules,
        TimeZoneInfo zone,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var horses = await session
            .Query<HorseProfile>()
            .Where(h => !h.Gone)
            .OrderByDescending(h => h.LastVisitOn)
            .Take(MostHorses)
            .ToListAsync(ct);
        var changes = new List<ObservedChange>();
        await foreach (var (horse, visits) in PracticeLearner.Visits(session, horses, ct))
            if (horse.Foaled is { } foaled && Series.SeriesFrom(visits, measure, station, rules, zone) is { } series)
                changes.AddRange(Changes(series, foaled));
        return changes;
    }

    /// <summary>Successive visits far enough apart, by one pair of hands. Pure.</summary>
    internal static IEnumerable<ObservedChange> Changes(WatchedSeries series, DateOnly foaled)
    {
        var days = series
            .Observations.GroupBy(o => Math.Floor(o.Day))
            .Select(g => (Day: g.Key, Value: g.Average(o => o.Value), g.First().By))
            .ToList();
        for (var i = 1; i < days.Count; i++)
        {
            var (before, now) = (days[i - 1], days[i]);
            if (now.Day - before.Day < LeastDays || now.By != before.By)
                continue;
            var middle = DateOnly.FromDateTime(DateTime.UnixEpoch).AddDays((int)((now.Day + before.Day) / 2));
            yield return new ObservedChange(
                (middle.DayNumber - foaled.DayNumber) / 365.25,
                middle,
                90 * (now.Value - before.Value) / (now.Day - before.Day)
            );
        }
    }
}
