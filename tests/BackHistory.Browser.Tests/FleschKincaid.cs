using System.Text.RegularExpressions;

namespace BackHistory.Browser.Tests;

/// <summary>
/// The Flesch–Kincaid grade level: years of school that a text asks for. Kincaid, Fishburne, Rogers and Chissom (1975), Derivation of new
/// readability formulas for Navy enlisted personnel, Research Branch Report 8-75, Naval Technical Training Command.
/// </summary>
internal static partial class FleschKincaid
{
    /// <summary>0.39 · words a sentence + 11.8 · syllables a word − 15.59. A number is one word of one syllable a digit; a full stop,
    /// colon and semicolon end what is read in one breath.</summary>
    public static double Grade(string text)
    {
        var words = Words().Matches(text).Select(m => m.Value).ToList();
        var sentences = Math.Max(1, Ends().Count(text));
        return words.Count == 0 ? 0 : (0.39 * words.Count / sentences) + (11.8 * words.Sum(Syllables) / words.Count) - 15.59;
    }

    /// <summary>Groups of vowels, but a mute e at the end and in “-ed” counts for none, and “ea”, “ia”, “io” are two where they are
    /// spoken so.</summary>
    public static int Syllables(string word)
    {
        if (char.IsAsciiDigit(word[0]))
            return word.Count(char.IsAsciiDigit);
        var w = word.ToLowerInvariant();
        var count = Vowels().Count(w);
        if (Mute().IsMatch(w))
            count--;
        if (Parted().IsMatch(w))
            count++;
        return Math.Max(1, count);
    }

    [GeneratedRegex(@"[\p{L}’'-]*\p{L}|\d[\d.]*\d|\d", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Words();

    [GeneratedRegex(@"[.!?:;](?=\s|$)", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Ends();

    [GeneratedRegex("[aeiouy]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Vowels();

    [GeneratedRegex("(?<![td])ed$|[^aeiouyl]e$|[^aeiouyl]es$(?<![sxzcg]es)(?<!hes)", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Mute();

    [GeneratedRegex("^area|eo(?!n)|ia(?!l)|io(?!n|u)", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Parted();
}
