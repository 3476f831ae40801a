using System.Reflection;

namespace BackHistory.Language;

/// <summary>The languages there are: one for each folder under <c>Languages/</c> that was built in.</summary>
public sealed class Languages
{
    private const string Folder = "Languages/";
    private const string Fallback = "en";

    private readonly SortedDictionary<string, LanguageTexts> byTag = new(StringComparer.Ordinal);

    private Languages(IEnumerable<Assembly> rooms)
    {
        English = byTag[Fallback] = new LanguageTexts(Fallback, null);
        foreach (var room in rooms)
        foreach (var resource in room.GetManifestResourceNames())
        {
            if (!resource.StartsWith(Folder, StringComparison.Ordinal))
                continue;
            var end = resource.IndexOf('/', Folder.Length);
            var tag = resource[Folder.Length..end];
            if (!byTag.TryGetValue(tag, out var texts))
                texts = byTag[tag] = new LanguageTexts(tag, English);
            texts.Read(room, resource, resource[(end + 1)..]);
        }
    }

    /// <summary>Those that come with the program.</summary>
    public static Languages Shipped { get; } = In(typeof(Languages).Assembly);

    /// <summary>Those whose folders were built into any of the assemblies.</summary>
    public static Languages In(params Assembly[] rooms) => new(rooms);

    internal LanguageTexts English { get; }

    internal IReadOnlyCollection<LanguageTexts> Texts => byTag.Values;

    /// <summary>English first, the others by their tags.</summary>
    public IReadOnlyList<ReportLanguage> All => [new(English), .. byTag.Values.Where(t => t != English).Select(t => new ReportLanguage(t))];

    /// <summary>As they are kept of a person.</summary>
    public IReadOnlyList<string> Tags => [.. All.Select(l => l.Tag)];

    /// <summary>For a refusal: <c>en or de</c>.</summary>
    public string Named => string.Join(" or ", Tags);

    public bool Knows(string? tag) => tag is not null && byTag.ContainsKey(tag);

    /// <summary>The language of a tag; English where there is none.</summary>
    public ReportLanguage Find(string? tag) => tag is not null && byTag.TryGetValue(tag, out var texts) ? new(texts) : default;
}
