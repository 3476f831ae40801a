using System.IO.Compression;
using System.Text.Json;
using BackHistory.Formats.Drawings;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Shape;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Events;
using BackHistory.Store.Files;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Archives;

/// <summary>Writes an archive: events as they are, what follows from them as tables, tracings and attachments as files that any program
/// opens.</summary>
public sealed class ArchiveWriter(ArchiveQueries archive, FileStore files)
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    /// <summary>The same archive has the same bytes whenever it is written.</summary>
    private static readonly DateTimeOffset Undated = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <param name="scope">One horse's histories; null for the whole practice.</param>
    public async Task Write(string practice, ArchiveScope? scope, Stream to, CancellationToken ct)
    {
        await using var zip = await ZipArchive.CreateAsync(to, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, ct);
        await Text(zip, "README.txt", ArchiveReadme.Text(scope is not null), ct);
        foreach (var (alias, schema) in EventSchemas.All().OrderBy(s => s.Key, StringComparer.Ordinal))
            await Text(zip, $"schemas/{alias}.json", schema.ToJsonString(), ct);
        var counts = new Dictionary<string, long>(StringComparer.Ordinal);
        await Lines(counts, zip, "events.jsonl", archive.Events(practice, scope, ct), ct);
        var people = await PeopleOf(practice, scope, ct);
        await Lines(
            counts,
            zip,
            "documents/people.jsonl",
            archive.All<Person>(practice, ct).Where(p => people?.Contains(p.Id) ?? true),
            ct
        );
        await Lines(counts, zip, "documents/yards.jsonl", archive.All<Yard>(practice, ct).Where(y => people?.Contains(y.Id) ?? true), ct);
        await Lines(
            counts,
            zip,
            "documents/identities.jsonl",
            archive.All<HorseIdentity>(practice, ct).Where(i => scope?.Horses.Contains(i.Id) ?? true),
            ct
        );
        if (scope is null)
            await Lines(counts, zip, "documents/contact.jsonl", archive.All<PracticeContact>(practice, ct), ct);
        await Lines(counts, zip, "documents/notes.jsonl", archive.All<Note>(practice, ct).Where(n => people?.Contains(n.Id) ?? true), ct);
        await Lines(
            counts,
            zip,
            "documents/letters.jsonl",
            archive.All<LetterContent>(practice, ct).Where(l => people?.Contains(l.Id) ?? true),
            ct
        );
        await Lines(
            counts,
            zip,
            "documents/comments.jsonl",
            archive.All<Comment>(practice, ct).Where(c => scope?.Horses.Contains(c.HorseId) ?? true),
            ct
        );
        await Lines(
            counts,
            zip,
            "documents/findings.jsonl",
            archive.All<Assessment>(practice, ct).Where(a => scope?.Horses.Contains(a.Id) ?? true).Select(a => a with { BasedOn = 0 }),
            ct
        );
        await Lines(
            counts,
            zip,
            "documents/audit.jsonl",
            archive.All<AuditNote>(practice, ct).Where(n => scope is null || (n.HorseId is { } horse && scope.Horses.Contains(horse))),
            ct
        );
        await new ArchiveTables(archive, practice, scope).Write(zip, Open, ct);
        await Tracings(zip, practice, scope, ct);
        var attachments = await Attachments(zip, practice, scope, ct);
        await Text(zip, ArchiveManifest.Name, new ArchiveManifest(counts, attachments).Text(), ct);
    }

    /// <summary>Everything that a horse's events name, so that nobody else's documents leave with it.</summary>
    private async Task<HashSet<Guid>?> PeopleOf(string practice, ArchiveScope? scope, CancellationToken ct)
    {
        if (scope is null)
            return null;
        var named = new HashSet<Guid>();
        await foreach (var e in archive.Events(practice, scope, ct))
        {
            Named(e.Data, named);
            if (Guid.TryParse(e.RecordedBy, out var by))
                named.Add(by);
        }

        return named;
    }

    private static void Named(JsonElement data, HashSet<Guid> named)
    {
        if (data.ValueKind == JsonValueKind.Object)
            foreach (var p in data.EnumerateObject())
                Named(p.Value, named);
        else if (data.ValueKind == JsonValueKind.Array)
            foreach (var i in data.EnumerateArray())
                Named(i, named);
        else if (data.ValueKind == JsonValueKind.String && data.TryGetGuid(out var id))
            named.Add(id);
    }

    private async Task Tracings(ZipArchive zip, string practice, ArchiveScope? scope, CancellationToken ct)
    {
        await foreach (var e in archive.Events(practice, scope, ct))
        {
            Tracing? tracing = e.Type switch
            {
                "cross_section_traced" => History.Horses.Tracings.TracingFrom(e.Data.Deserialize<CrossSectionTraced>(Json)!),
                "topline_traced" => History.Horses.Tracings.TracingFrom(e.Data.Deserialize<ToplineTraced>(Json)!),
                _ => null,
            };
            if (tracing is null)
                continue;
            var name = $"tracings/{e.Stream}/{e.Data.GetProperty("visitId").GetGuid()}/{e.Data.GetProperty("entryId").GetGuid()}";
            await Text(
                zip,
                $"{name}.csv",
                "x_mm,y_mm\r\n" + string.Concat(tracing.Points.Select(p => FormattableString.Invariant($"{p.X:R},{p.Y:R}\r\n"))),
                ct
            );
            await Text(zip, $"{name}.svg", ContourDrawing.Svg([new DrawnLine(tracing.Station ?? "topline", tracing.Points)]), ct);
        }
    }

    private async Task<long> Attachments(ZipArchive zip, string practice, ArchiveScope? scope, CancellationToken ct)
    {
        var done = new HashSet<string>(StringComparer.Ordinal);
        var written = 0;
        await foreach (var e in archive.Events(practice, scope, ct))
        {
            if (e.Type is not ("horse_file_attached" or "saddle_file_attached"))
                continue;
            var hash = e.Data.GetProperty("file").GetProperty("contentHash").GetString()!;
            if (!done.Add(hash))
                continue;
            using var memory = new MemoryStream();
            // What was erased is named by its event and is not here.
            if (!await files.Copy(practice, hash, memory, ct))
                continue;
            await using var stream = await Open(zip, $"attachments/{hash}", ct);
            memory.Position = 0;
            await memory.CopyToAsync(stream, ct);
            written++;
        }

        return written;
    }

    private static async Task Lines<T>(
        Dictionary<string, long> counts,
        ZipArchive zip,
        string name,
        IAsyncEnumerable<T> items,
        CancellationToken ct
    )
    {
        counts[name] = 0;
        await using var stream = await Open(zip, name, ct);
        await foreach (var item in items)
        {
            await stream.WriteAsync(JsonSerializer.SerializeToUtf8Bytes(item, Json), ct);
            await stream.WriteAsync("\n"u8.ToArray(), ct);
            counts[name]++;
        }
    }

    private static async Task Text(ZipArchive zip, string name, string text, CancellationToken ct)
    {
        await using var stream = await Open(zip, name, ct);
        await stream.WriteAsync(System.Text.Encoding.UTF8.GetBytes(text), ct);
    }

    private static Task<Stream> Open(ZipArchive zip, string name, CancellationToken ct)
    {
        var entry = zip.CreateEntry(name, CompressionLevel.Fastest);
        entry.LastWriteTime = Undated;
        return entry.OpenAsync(ct);
    }
}
