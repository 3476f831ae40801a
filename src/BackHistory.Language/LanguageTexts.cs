using System.Collections;
using System.Reflection;
using System.Resources;

namespace BackHistory.Language;

/// <summary>Everything that one language's folder holds.</summary>
internal sealed class LanguageTexts
{
    private readonly Dictionary<string, string> texts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> documents = new(StringComparer.Ordinal);
    private readonly LanguageTexts? fallback;

    internal LanguageTexts(string tag, LanguageTexts? fallback) => (Tag, this.fallback) = (tag, fallback);

    internal string Tag { get; }

    /// <summary>Of its own, without those that it falls back on.</summary>
    internal IReadOnlyDictionary<string, string> Texts => texts;

    /// <summary>Of its own, by their name inside its folder.</summary>
    internal IReadOnlyDictionary<string, string> Documents => documents;

    internal string? Find(string key) => texts.GetValueOrDefault(key) ?? fallback?.Find(key);

    internal string Document(string name) =>
        documents.GetValueOrDefault(name) ?? fallback?.Document(name) ?? throw new InvalidOperationException($"{name} is in no language.");

    /// <param name="name">Inside the language's folder.</param>
    internal void Read(Assembly from, string resource, string name)
    {
        using var stream = from.GetManifestResourceStream(resource)!;
        if (!name.EndsWith(".resources", StringComparison.Ordinal))
        {
            using var reader = new StreamReader(stream);
            documents.Add(name, reader.ReadToEnd());
            return;
        }

        using var set = new ResourceReader(stream);
        foreach (DictionaryEntry entry in set)
            texts.Add((string)entry.Key, (string)entry.Value!);
    }
}
