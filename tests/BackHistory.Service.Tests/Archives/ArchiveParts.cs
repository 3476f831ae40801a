using System.IO.Compression;
using System.Text.Json.Nodes;

namespace BackHistory.Service.Tests.Archives;

/// <summary>An archive as its lines, to be put together wrongly.</summary>
internal sealed class ArchiveParts
{
    private const string Manifest = "manifest.json";

    private readonly Dictionary<string, byte[]> _files;

    public ArchiveParts(byte[] zip)
        : this(Read(zip)) { }

    private ArchiveParts(Dictionary<string, byte[]> files) => _files = files;

    public ArchiveParts Copy() => new(new Dictionary<string, byte[]>(_files, StringComparer.Ordinal));

    public List<string> Lines(string name) =>
        _files.TryGetValue(name, out var bytes)
            ? [.. System.Text.Encoding.UTF8.GetString(bytes).Split('\n', StringSplitOptions.RemoveEmptyEntries)]
            : [];

    public IEnumerable<string> Names => _files.Keys.Order(StringComparer.Ordinal);

    public ArchiveParts With(string name, IEnumerable<string> lines)
    {
        _files[name] = System.Text.Encoding.UTF8.GetBytes(string.Concat(lines.Select(l => l + "\n")));
        return this;
    }

    public ArchiveParts With(string name, byte[] bytes)
    {
        _files[name] = bytes;
        return this;
    }

    /// <summary>As an earlier release wrote it, which counted nothing.</summary>
    public ArchiveParts Uncounted() => Without(Manifest);

    public ArchiveParts Without(string name)
    {
        _files.Remove(name);
        return this;
    }

    /// <summary>The lines of a file, changed one by one; of events the places are counted anew.</summary>
    public ArchiveParts Edit(string name, Func<List<JsonObject>, IEnumerable<JsonObject>> edit)
    {
        var edited = edit([.. Lines(name).Select(l => JsonNode.Parse(l)!.AsObject())]).Select(l => l.DeepClone().AsObject()).ToList();
        if (name == "events.jsonl")
            for (var i = 0; i < edited.Count; i++)
                edited[i]["position"] = i + 1;
        return With(name, edited.Select(l => l.ToJsonString()));
    }

    public byte[] Zip()
    {
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, bytes) in _files)
            {
                using var entry = archive.CreateEntry(name, CompressionLevel.Fastest).Open();
                entry.Write(bytes);
            }
        }

        return zip.ToArray();
    }

    private static Dictionary<string, byte[]> Read(byte[] zip)
    {
        using var archive = new ZipArchive(new MemoryStream(zip));
        return archive.Entries.ToDictionary(
            e => e.FullName,
            e =>
            {
                using var memory = new MemoryStream();
                using var entry = e.Open();
                entry.CopyTo(memory);
                return memory.ToArray();
            },
            StringComparer.Ordinal
        );
    }
}
