using BackHistory.Shape.Gauges;

namespace BackHistory.History.Practices;

/// <summary>What the table of a gauge cannot be, part by part, so that each can be said at its place.</summary>
public static class GaugeRefusals
{
    public const int LongestKey = 60;

    public const int LongestName = 80;

    public const int MostMarks = 200;

    public static readonly Refused TooManyMarks = new("too-many-marks", $"A gauge has at most {MostMarks} marks.", Place: "marks");

    /// <summary>As a person is told what a key is.</summary>
    public static string KeyRule { get; } =
        $"A gauge has a key of up to {LongestKey} small letters, digits and hyphens, as saddles name it, for example bench-1.";

    /// <param name="known">A gauge stands under it.</param>
    public static Refused? OfKey(string? key, bool known = false) =>
        PracticeDecider.IsKey(key) && (known || key!.All(IsPlain)) ? null : new Refused("no-key", KeyRule, Place: "key");

    public static Refused? OfName(string? name) =>
        ReadableName.IsMissing(name) || name!.Length > LongestName
            ? new Refused("no-name", $"A gauge has a name of up to {LongestName} letters.", Place: "name")
            : null;

    public static Refused? OfMark(GaugeMark mark) =>
        ReadableName.IsMissing(mark.Name) || mark.Name.Length > LongestName
            ? new Refused("bad-gauge", $"A mark of a gauge has a name of up to {LongestName} letters.", Place: "marks")
        : Plausible.GaugeMark.Holds(mark.Position) && Plausible.GaugeMark.Holds(mark.Value) ? null
        : new Refused("bad-gauge", $"The mark '{mark.Name}' lies outside {Plausible.GaugeMark}: no gauge reads that.", Place: "marks");

    /// <summary>Beside the mark, where its table is typed or brought in.</summary>
    public static Refused OfFault(GaugeFault fault) =>
        new(
            "bad-gauge",
            fault.SamePlace
                ? $"On the same place as “{fault.Before.Name}”."
                : $"It turns round after “{fault.Before.Name}”: a gauge only rises or only falls.",
            Place: "marks"
        );

    /// <summary>A key made of a name: what no key holds becomes a hyphen. Empty where nothing is left.</summary>
    public static string KeyOf(string name)
    {
        var plain = string.Concat(
            name.ToLowerInvariant()
                .Replace("ß", "ss", StringComparison.Ordinal)
                .Normalize(System.Text.NormalizationForm.FormKD)
                .Where(c =>
                    System.Globalization.CharUnicodeInfo.GetUnicodeCategory(c) != System.Globalization.UnicodeCategory.NonSpacingMark
                )
                .Select(c => IsPlain(c) ? c : '-')
        );
        var words = string.Join('-', plain.Split('-', StringSplitOptions.RemoveEmptyEntries));
        return words.Length <= LongestKey ? words : words[..LongestKey].TrimEnd('-');
    }

    private static bool IsPlain(char c) => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-';
}
