using System.Text.RegularExpressions;
using BackHistory.Reports.Fonts;
using SkiaSharp;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>Widths and line breaks of text in the reports' font, in pixels.</summary>
internal static partial class Lettering
{
    public static float Width(string text, float size, Weight weight = Weight.Regular)
    {
        using var font = Font(size, weight);
        return font.MeasureText(text);
    }

    public static SKFont Font(float size, Weight weight) =>
        new(ReportFonts.Face(weight), size) { Subpixel = true, Hinting = SKFontHinting.None };

    /// <summary>Breaks at spaces; a word wider than the line is broken inside, so that nothing runs out of the picture.</summary>
    public static IReadOnlyList<string> Wrap(string text, float width, float size, Weight weight = Weight.Regular)
    {
        var lines = new List<string>();
        var line = "";
        foreach (
            var word in KeepUnits(Printable.Clean(text))
                .Split(' ', StringSplitOptions.RemoveEmptyEntries)
                .SelectMany(w => Pieces(w, width, size, weight))
        )
        {
            var longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && Width(longer, size, weight) > width)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }
        if (line.Length > 0)
            lines.Add(line);
        return lines;
    }

    /// <summary>A number and its unit stay on one line.</summary>
    static string KeepUnits(string text) => BeforeUnit().Replace(text, "\u00a0");

    [GeneratedRegex(@"(?<=\d) (?=(mm|cm²|cm|kg|l)\b|%|°)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex BeforeUnit();

    /// <summary>As few lines as <see cref="Wrap"/>, about equally long, so that no single word is left for the last.</summary>
    public static IReadOnlyList<string> Balance(string text, float width, float size, Weight weight = Weight.Regular)
    {
        var best = Wrap(text, width, size, weight);
        for (var narrower = width - 8; narrower > width / 2; narrower -= 8)
        {
            var lines = Wrap(text, narrower, size, weight);
            if (lines.Count > best.Count)
                break;
            best = lines;
        }
        return best;
    }

    static IEnumerable<string> Pieces(string word, float width, float size, Weight weight)
    {
        while (word.Length > 1 && Width(word, size, weight) > width)
        {
            var fits = word.Length - 1;
            while (fits > 1 && (Width(word[..fits], size, weight) > width || char.IsHighSurrogate(word[fits - 1])))
                fits--;
            yield return word[..fits];
            word = word[fits..];
        }
        yield return word;
    }
}
