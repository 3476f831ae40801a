using System.Text.Json;
using System.Text.Json.Serialization;

namespace BackHistory.Application.Archives;

/// <summary>How much lies in an archive, as whoever wrote it counted: what was cut off on its way is missed. Archives of earlier releases
/// have none.</summary>
/// <param name="Lines">By the name of the file of lines.</param>
/// <param name="Attachments">How many files.</param>
internal sealed record ArchiveManifest(
    [property: JsonRequired] IReadOnlyDictionary<string, long> Lines,
    [property: JsonRequired] long Attachments
)
{
    public const string Name = "manifest.json";

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    public string Text() => JsonSerializer.Serialize(this, Json);

    /// <exception cref="JsonException">It is none.</exception>
    public static ArchiveManifest Read(string text)
    {
        var read = JsonSerializer.Deserialize<ArchiveManifest>(text, Json);
        return read is { Lines: not null } ? read : throw new JsonException("A manifest holds lines and attachments.");
    }

    /// <summary>Where it and what lies there differ, in words; null where nowhere.</summary>
    public string? Differs(ArchiveManifest found)
    {
        foreach (var name in Lines.Keys.Union(found.Lines.Keys, StringComparer.Ordinal).Order(StringComparer.Ordinal))
            if (Lines.GetValueOrDefault(name) is var said && found.Lines.GetValueOrDefault(name) is var there && said != there)
                return FormattableString.Invariant($"{Name} says that {name} has {said} lines, and it has {there}.");
        return Attachments == found.Attachments
            ? null
            : FormattableString.Invariant($"{Name} says that there are {Attachments} attachments, and there are {found.Attachments}.");
    }
}
