using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Files;
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

    private static readonly JsonSerializerOptions Json = StoredJson.Options();

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
            {
                await ArchiveIntake.Judge(Events(events, ct), implausible, time.GetUtcNow(), ct);
                await Beside(practice, hash, zip, ct);
            }

            await intake.Events(practice, hash, Events(events, ct).Where(e => e.Position > after), ct);
            return null;
        }
        catch (Exception e) when (e is InvalidDataException or JsonException)
        {
            return NoArchive;
        }
        catch (ArchiveException e)
        {
            return new Refused(e.Code, e.Message);
        }
    }

    /// <summary>Measures and words pack to a tenth, pictures hardly at all; what packs to a two-hundredth says nothing.</summary>
    private static bool IsBomb(ZipArchiveEntry entry) => entry.Length > Unsuspicious && entry.Length / MostPacked > entry.CompressedLength;

    private static readonly Refused NoArchive = new("unreadable", "This is no archive of a practice, or it is damaged.");

    private async Task Beside(string practice, string hash, ZipArchive zip, CancellationToken ct)
    {
        foreach (
            var attached in zip.Entries.Where(e =>
                e.FullName.StartsWith("attachments/", StringComparison.Ordinal) && e.Length is > 0 and <= FileBytes.Most
            )
        )
        {
            using var memory = new MemoryStream();
            await using (var stream = await attached.OpenAsync(ct))
                await stream.CopyToAsync(memory, ct);
            // By its own bytes: what does not hash to its name is no attachment of these events.
            if (FileBytes.Again(memory.ToArray()) is { } file && file.Hash == attached.Name)
                await intake.File(practice, file, ct);
        }

        await intake.Documents(
            practice,
            hash,
            new ArchivedDocuments(
                await All<Person>("people"),
                await All<Yard>("yards"),
                await All<Note>("notes"),
                await All<LetterContent>("letters"),
                await All<Comment>("comments"),
                await All<Assessment>("findings")
            ),
            ct
        );
        if (zip.GetEntry("documents/audit.jsonl") is { } audit)
            await intake.Audit(practice, Lines<AuditNote>(audit, ct), ct);

        async Task<List<T>> All<T>(string name) =>
            zip.GetEntry($"documents/{name}.jsonl") is { } entry ? await Lines<T>(entry, ct).ToListAsync(ct) : [];
    }

    private static IAsyncEnumerable<ArchivedEvent> Events(ZipArchiveEntry entry, CancellationToken ct) =>
        Lines<ArchivedEvent>(entry, ct).Select(e => e.Position > 0 ? e : throw new InvalidDataException("A line has no place."));

    private static async IAsyncEnumerable<T> Lines<T>(ZipArchiveEntry entry, [EnumeratorCancellation] CancellationToken ct)
    {
        await using var stream = await entry.OpenAsync(ct);
        await foreach (var (number, line) in ArchiveLines.Read(stream, LongestLine, ct))
        {
            // What cannot be kept stands in the text as an escape.
            if (line.Contains("\\u", StringComparison.Ordinal) && StoredText.Problem(Encoding.UTF8.GetBytes(line)) is { } unkeepable)
                throw new ArchiveException($"On line {number} of {entry.FullName}: {unkeepable.Message}", unkeepable.Code);
            yield return JsonSerializer.Deserialize<T>(line, Json) ?? throw new InvalidDataException("A line is empty.");
        }
    }
}
