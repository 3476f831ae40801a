using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>What a template can name.</summary>
internal static class Names
{
    public static IReadOnlyDictionary<string, object> OfSubject(LetterModel content) =>
        new Dictionary<string, object>(StringComparer.Ordinal)
        {
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
}
