using System.Globalization;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>What a template can name.</summary>
internal static class Names
{
    /// <summary>A longer name of a horse ends in three dots in the subject, which mail programs show the beginning of: the letter itself
    /// says it whole.</summary>
    private const int LongestInSubject = 48;

    /// <summary>A subject is read over shoulders: a horse and a day may stand there, and nothing of a person.</summary>
    public static IReadOnlyDictionary<string, object> OfSubject(LetterModel content) =>
        new Dictionary<string, object>(StringComparer.Ordinal)
        {
            ["horse"] = Shortened(content.HorseName),
            ["date"] = content.Date is { } date ? content.Language.Date(date) : "",
            ["count"] = content.Groups.Sum(g => g.Items.Count),
        };

    public static IReadOnlyDictionary<string, object> OfBody(LetterModel content) =>
        new Dictionary<string, object>(OfSubject(content), StringComparer.Ordinal)
        {
            ["recipient"] = content.RecipientName,
            ["horse"] = content.HorseName,
            ["practice"] = content.PracticeName,
            ["sentences"] = content.Sentences,
        };

    /// <summary>Between letters as a reader counts them, so that none is cut in two.</summary>
    private static string Shortened(string name)
    {
        if (name.Length <= LongestInSubject)
            return name;
        var end = 0;
        foreach (var start in StringInfo.ParseCombiningCharacters(name).Append(name.Length))
            end = start < LongestInSubject ? start : end;
        return $"{name[..end].TrimEnd()}…";
    }
}
