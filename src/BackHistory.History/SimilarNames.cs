using System.Globalization;
using System.Text;

namespace BackHistory.History;

/// <summary>Whether two names may be one, written by different hands: capitals, accents and spaces do not tell them apart, nor do the
/// two ways of writing an umlaut.</summary>
public static class SimilarNames
{
    /// <summary>What is the same for names that may be one: <c>Müller</c>, <c>MUELLER</c> and <c>muller</c>. Empty where nothing is
    /// left.</summary>
    public static string Key(string name)
    {
        var plain = name.ToLowerInvariant().Replace("ß", "ss", StringComparison.Ordinal).Normalize(NormalizationForm.FormD);
        var letters = new StringBuilder(plain.Length);
        foreach (var c in plain)
            if (char.IsLetterOrDigit(c) && CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark)
                letters.Append(c);
        return letters.Replace("ae", "a").Replace("oe", "o").Replace("ue", "u").Replace("ø", "o").Replace("æ", "a").ToString();
    }
}
