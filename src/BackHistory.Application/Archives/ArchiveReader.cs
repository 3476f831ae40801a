using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Events;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Archives;

/// <summary>Takes an archive into an empty practice. Interrupted, the same archive sent again goes on.</summary>
public sealed class ArchiveReader(ArchiveIntake intake, TimeProvider time)
{
    /// <summary>An archive of a thousand horses over twenty years stays below; a bomb does not.</summary>
    private const long MostUnpacked = 20L << 30;

    private const int LongestLine = 8 << 20;

    private const long Unsuspicious = 1 << 20;

    private const int MostPacked = 200;

    private static readonly JsonSerializerOptions Json = Strictly();

    /// <param name="implausible">
    /// Whether events are taken in though no horse has their numbers; what cannot be computed from them is then set aside.
    /// </param>
    public async Task<Refused?> Read(string practice, Stream file, bool implausible, CancellationToken ct)
    {
        var hash = Convert.ToHexStringLower(await SHA256.HashDataAsync(file, ct));
        file.Position = 0;
        // One at a time, until it is whole: another, or the same once more, would begin where this one is.
        await using var turn = await intake.Turn(practice, ct);
        if (turn is null)
            return ArchiveIntake.AtWork;
        var (after, refused) = await intake.Begin(practice, hash, ct);
        if (refused is not null)
            return refused;
        try
        {
            await using var zip = await ZipArchive.CreateAsync(file, ZipArchiveMode.Read, leaveOpen: true, entryNameEncoding: null, ct);
            if (zip.GetEntry("events.jsonl") is not { } events)
                return NoArchive;
            if (zip.Entries.Sum(e => e.Length) > MostUnpacked || zip.Entries.Any(IsBomb))
                return new Refused("unpacks-too-large", "Unpacked the archive would be larger than any practice's. It was not opened.");
            if (after == 0)
                await TakeSideDocuments(practice, hash, zip, await Judge(practice, zip, events, implausible, ct), ct);

            await intake.Events(practice, hash, Events(events, ct).Select(e => e.Event).Where(e => e.Position > after), ct);
            return null;
        }
        catch (Exception e) when (e is InvalidDataException or JsonException)
        {
            return NoArchive;
        }
        catch (ArchiveException e)
        {
            return new Refused(e.Code, $"{e.Message} {NothingWasTaken}");
        }
    }

    /// <summary>Measures and words pack to a tenth, pictures hardly at all; what packs to a two-hundredth says nothing.</summary>
    private static bool IsBomb(ZipArchiveEntry entry) => entry.Length > Unsuspicious && entry.Length / MostPacked > entry.CompressedLength;

    private static readonly Refused NoArchive = new(
        "unreadable",
        "This is no archive of a practice, or it is damaged. Nothing was taken in."
    );

    private const string NothingWasTaken =
        "Nothing was taken in: mend it where the archive was written and write it anew, or send another.";

    /// <summary>The whole archive, before the first of it is kept.</summary>
    /// <exception cref="ArchiveException">Some of it cannot be taken in; the message says what and where.</exception>
    private async Task<ArchivedDocuments> Judge(
        string practice,
        ZipArchive zip,
        ZipArchiveEntry events,
        bool implausible,
        CancellationToken ct
    )
    {
        var now = time.GetUtcNow();
        var judged = await intake.Judge(practice, Events(events, ct), implausible, now, ct);
        var check = new ArchivedDocumentsCheck(judged, now);
        var counts = new Dictionary<string, long>(StringComparer.Ordinal) { [events.FullName] = judged.Events };
        var documents = new ArchivedDocuments(
            await All<Person>("people"),
            await All<Yard>("yards"),
            await All<Note>("notes"),
            await All<LetterContent>("letters"),
            await All<Comment>("comments"),
            await All<Assessment>("findings"),
            await All<PracticeContact>("contact"),
            await All<HorseIdentity>("identities")
        );
        // There may be too many looks to hold them all.
        var looks = 0L;
        if (zip.GetEntry(AuditLines) is { } audit)
            await foreach (var (line, note, json) in Lines<AuditNote>(audit, ct))
            {
                Refuse(check.Problem(note, json), audit, line);
                looks++;
            }

        counts[AuditLines] = looks;
        var attachments = 0;
        await foreach (var attached in Attachments(zip, ct))
        {
            if (!judged.Files.Contains(attached.Hash))
                throw new ArchiveException($"No event names {AttachmentsFolder}{attached.Hash}.", "incomplete");
            attachments++;
        }

        if (zip.GetEntry(ArchiveManifest.Name) is { Length: <= Unsuspicious } manifest)
        {
            using var reader = new StreamReader(await manifest.OpenAsync(ct));
            var said = ArchiveManifest.Read(await reader.ReadToEndAsync(ct));
            if (said.Differs(new ArchiveManifest(counts, attachments)) is { } why)
                throw new ArchiveException(why, "incomplete");
        }

        return documents;

        async Task<List<T>> All<T>(string name)
            where T : class
        {
            var all = new List<T>();
            var file = $"documents/{name}.jsonl";
            if (zip.GetEntry(file) is { } entry)
                await foreach (var (line, document, json) in Lines<T>(entry, ct))
                {
                    Refuse(check.Problem(document, json), entry, line);
                    all.Add(document);
                }

            counts[file] = all.Count;
            return all;
        }
    }

    private static void Refuse(Refused? problem, ZipArchiveEntry entry, int line)
    {
        if (problem is not null)
            throw new ArchiveException($"On line {line} of {entry.FullName}: {problem.Message}", problem.Code);
    }

    private async Task TakeSideDocuments(string practice, string hash, ZipArchive zip, ArchivedDocuments documents, CancellationToken ct)
    {
        await foreach (var file in Attachments(zip, ct))
            await intake.File(practice, file, ct);
        await intake.Documents(practice, hash, documents, ct);
        if (zip.GetEntry(AuditLines) is { } audit)
            await intake.Audit(practice, Lines<AuditNote>(audit, ct).Select(n => n.Value), ct);
    }

    private const string AuditLines = "documents/audit.jsonl";

    private const string AttachmentsFolder = "attachments/";

    /// <exception cref="ArchiveException">The bytes are not those that the name says, or of a kind that is not kept.</exception>
    private static async IAsyncEnumerable<FileBytes> Attachments(ZipArchive zip, [EnumeratorCancellation] CancellationToken ct)
    {
        foreach (var attached in zip.Entries.Where(e => e.Length > 0 && e.FullName.StartsWith(AttachmentsFolder, StringComparison.Ordinal)))
        {
            if (attached.Length > FileBytes.Most)
                throw new ArchiveException($"{attached.FullName} is larger than {FileBytes.Most >> 20} MB.");
            using var memory = new MemoryStream();
            await using (var stream = await attached.OpenAsync(ct))
                await stream.CopyToAsync(memory, ct);
            if (FileBytes.Again(memory.ToArray()) is not { } file || file.Hash != attached.FullName[AttachmentsFolder.Length..])
                throw new ArchiveException($"{attached.FullName} is not the file that its name says: it was damaged or changed.");
            yield return file;
        }
    }

    private static async IAsyncEnumerable<(int Line, ArchivedEvent Event)> Events(
        ZipArchiveEntry entry,
        [EnumeratorCancellation] CancellationToken ct
    )
    {
        await foreach (var (line, e, _) in Lines<ArchivedEvent>(entry, ct))
            yield return (line, e);
    }

    private static async IAsyncEnumerable<(int Line, T Value, JsonElement Json)> Lines<T>(
        ZipArchiveEntry entry,
        [EnumeratorCancellation] CancellationToken ct
    )
    {
        await using var stream = await entry.OpenAsync(ct);
        await foreach (var (number, line) in ArchiveLines.Read(stream, LongestLine, ct))
        {
            // What cannot be kept stands in the text as an escape.
            if (line.Contains("\\u", StringComparison.Ordinal) && StoredText.Problem(Encoding.UTF8.GetBytes(line)) is { } unkeepable)
                throw new ArchiveException($"On line {number} of {entry.FullName}: {unkeepable.Message}", unkeepable.Code);
            yield return Read<T>(entry, number, line);
        }
    }

    private static (int Line, T Value, JsonElement Json) Read<T>(ZipArchiveEntry entry, int number, string line)
    {
        try
        {
            var json = JsonSerializer.Deserialize<JsonElement>(line, Json);
            if (json.ValueKind == JsonValueKind.Object && json.Deserialize<T>(Json) is { } value)
                return (number, value, json);
        }
        catch (JsonException)
        {
            // Told below, with its place.
        }

        throw new ArchiveException($"Line {number} of {entry.FullName} cannot be read: it is cut off, or no line of such a file.");
    }

    /// <summary>A name that stands twice says two things.</summary>
    private static JsonSerializerOptions Strictly() => new(StoredJson.Options()) { AllowDuplicateProperties = false };
}
