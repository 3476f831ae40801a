using System.Text.Json;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Saddles;
using BackHistory.Store.Accounts;
using BackHistory.Store.Events;
using BackHistory.Store.Practices;
using Marten;
using Npgsql;

namespace BackHistory.Store.Setup;

/// <summary>Which release's shapes the store's documents have. One document for the whole store.</summary>
public sealed record StoreRelease(string Id, int Number)
{
    public const string TheStore = "this store";

    /// <summary>1: documents in the casing of their classes, enums as numbers, answers' words in events. 2: as
    /// <see cref="StoredJson.Options"/> writes. 3: lines of the timeline as facts, without words. 4: a saddle that was kept after a
    /// trial is on its horse, and a reminder knows for when its visit was booked before.</summary>
    public const int Current = 4;
}

/// <summary>
/// Brings a store that an earlier release wrote to today's shapes, once, after its schema. Events keep their bytes; documents are written
/// anew and read models are rebuilt. Interrupted, it begins again: every step may be done twice.
/// </summary>
internal static class StoreMigrations
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    public static async Task Bring(IDocumentStore store, NpgsqlDataSource database, CancellationToken ct)
    {
        await using var turn = await AdvisoryLock.Take(database, "bring an older store", ct);
        await using var session = store.LightweightSession();
        var known = await session.LoadAsync<StoreRelease>(StoreRelease.TheStore, ct);
        if (known?.Number == StoreRelease.Current)
            return;
        if (known is null && await IsOlder(database, ct))
            await FromRelease1(store, database, ct);
        if (known?.Number == 2)
            await Rebuild(store, ["Timeline"], ct);
        if (known?.Number is 2 or 3)
            await Rebuild(store, [nameof(Saddle), nameof(Reminder), nameof(HorseProfile)], ct);
        session.Store(new StoreRelease(StoreRelease.TheStore, StoreRelease.Current));
        await session.SaveChangesAsync(ct);
    }

    private static async Task FromRelease1(IDocumentStore store, NpgsqlDataSource database, CancellationToken ct)
    {
        await WordsOfAnswers(store, database, ct);
        await Rewrite<Person>(database, "person", ct);
        await Rewrite<Yard>(database, "yard", ct);
        await Rewrite<LetterContent>(database, "lettercontent", ct);
        await Rewrite<CommandReceipt>(database, "commandreceipt", ct);
        await Rewrite<KnownPractice>(database, "knownpractice", ct);
        await Rewrite<Account>(database, "account", ct);
        await Rewrite<AccessKey>(database, "accesskey", ct);
        await Rewrite<Assessment>(database, "assessment", ct);
        await Rebuild(store, store.Options.Events.Projections().Select(p => p.Name), ct);
    }

    private static async Task Rebuild(IDocumentStore store, IEnumerable<string> names, CancellationToken ct)
    {
        using var daemon = await store.BuildProjectionDaemonAsync();
        foreach (var name in names)
            await daemon.RebuildProjectionAsync(name, ct);
    }

    private static async Task<bool> IsOlder(NpgsqlDataSource database, CancellationToken ct)
    {
        await using var command = database.CreateCommand("select exists (select 1 from history.mt_events)");
        return await command.ExecuteScalarAsync(ct) is true;
    }

    private static async Task WordsOfAnswers(IDocumentStore store, NpgsqlDataSource database, CancellationToken ct)
    {
        foreach (
            var (practice, seq, json) in await Rows(
                database,
                "select tenant_id, seq_id::text, data::text from history.mt_events where type = 'reminder_answered' and data ? 'Words'",
                ct
            )
        )
        {
            var old = JsonSerializer.Deserialize<ReminderAnswered1>(json, Json)!;
            if (Upcasters.Today(old).NoteId is not { } id)
                continue;
            await using var session = store.LightweightSession(practice);
            session.Store(new Note(id, old.Words!, [], old.By, old.TakenAt));
            // What is left says that there were words: by it the event still finds its note.
            session.QueueSqlCommand(
                "update history.mt_events set data = jsonb_set(data, '{Words}', '\"see the note\"') where seq_id = ?",
                long.Parse(seq, System.Globalization.CultureInfo.InvariantCulture)
            );
            await session.SaveChangesAsync(ct);
        }
    }

    private static async Task Rewrite<T>(NpgsqlDataSource database, string table, CancellationToken ct)
    {
        var tenants = await Rows(
            database,
            $"select attname, '', '' from pg_attribute where attrelid = 'history.mt_doc_{table}'::regclass and attname = 'tenant_id'",
            ct
        );
        var practice = tenants.Count > 0 ? "tenant_id" : "''";
        foreach (
            var (tenant, id, json) in await Rows(
                database,
                $"select {practice}, id::text, data::text from history.mt_doc_{table} where data ? 'Id'",
                ct
            )
        )
        {
            var anew = JsonSerializer.Serialize(JsonSerializer.Deserialize<T>(json, Json), Json);
            await using var command = database.CreateCommand(
                $"update history.mt_doc_{table} set data = $1::jsonb where id::text = $2 and {practice} = $3"
            );
            foreach (var value in (string[])[anew, id, tenant])
                command.Parameters.Add(new NpgsqlParameter { Value = value });
            await command.ExecuteNonQueryAsync(ct);
        }
    }

    private static async Task<List<(string Practice, string Id, string Json)>> Rows(
        NpgsqlDataSource database,
        string sql,
        CancellationToken ct
    )
    {
        var rows = new List<(string, string, string)>();
        await using var command = database.CreateCommand(sql);
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            rows.Add((reader.GetString(0), reader.GetString(1), reader.GetString(2)));
        return rows;
    }
}
