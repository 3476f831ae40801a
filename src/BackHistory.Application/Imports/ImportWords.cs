namespace BackHistory.Application.Imports;

/// <summary>What columns are called in old tables and which words stand in their cells, in every language that there is. A name only
/// proposes a meaning; a word is one of a closed list, and of no more than one of its values.</summary>
public static class ImportWords
{
    /// <summary>Names of a column with such a field, the first of each language the usual one.</summary>
    public static IReadOnlyList<string> NamesOf(string field) => Of($"import.column.{field}");

    /// <summary>The value that a word of any language means; null where it is none.</summary>
    internal static string? Choice(string field, string word, IEnumerable<string> values) =>
        values.FirstOrDefault(v => Same(v, word)) ?? values.FirstOrDefault(v => WordsOf(field, v).Any(w => Same(w, word)));

    /// <summary>What stands for a value in old tables, in every language.</summary>
    internal static IReadOnlyList<string> WordsOf(string field, string value) => Of($"import.choice.{field}.{value.ToLowerInvariant()}");

    /// <summary>The tag of a language that is called by its tag, or by its name in English or in itself.</summary>
    internal static string? Language(string word) =>
        Languages
            .Shipped.All.Where(l => Same(l.Tag, word) || Same(l.EnglishName, word) || Same(l.OwnName, word))
            .Select(l => l.Tag)
            .FirstOrDefault();

    /// <summary>For a refusal: the usual word of each value in every language.</summary>
    internal static string Known(string field, IEnumerable<string> values) =>
        string.Join(
            ", ",
            values.Select(v =>
                string.Join(
                    " or ",
                    Languages
                        .Shipped.All.Select(l => l.Find($"import.choice.{field}.{v.ToLowerInvariant()}")?.Split('|')[0])
                        .OfType<string>()
                        .Distinct(StringComparer.OrdinalIgnoreCase)
                        .DefaultIfEmpty(v.ToLowerInvariant())
                )
            )
        );

    private static List<string> Of(string key) =>
        [.. Languages.Shipped.All.SelectMany(l => l.Find(key)?.Split('|') ?? []).Distinct(StringComparer.OrdinalIgnoreCase)];

    private static bool Same(string one, string other) => string.Equals(one, other.Trim(), StringComparison.OrdinalIgnoreCase);
}
