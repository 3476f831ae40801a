using System.Globalization;
using BackHistory.History.Timeline;

namespace BackHistory.Language.Timeline;

/// <summary>The lines of a horse's timeline. Each kind of fact has its sentence under <c>timeline.</c>, each word under
/// <c>timeline.word.</c>.</summary>
public static class TimelineSentences
{
    /// <summary>Between the parts of a line, as in the work on a saddle.</summary>
    private const string Between = "; ";

    public static string InWords(this TimelineEntry entry, ReportLanguage language = default) => entry.Fact.InWords(language);

    public static string InWords(this TimelineFact fact, ReportLanguage language = default) =>
        language[KeyOf(fact.Kind), [.. fact.Values.Select(v => (object)Said(v, language))]];

    internal static string KeyOf(TimelineFactKind kind) => "timeline." + ClosedNames.Kebab(kind.ToString());

    internal static string KeyOf(TimelineWord word) => "timeline.word." + ClosedNames.Kebab(word.ToString());

    private static string Said(TimelineValue value, ReportLanguage language) =>
        value switch
        {
            { Text: { } text } => text,
            { Number: { } number } => Number(number, language),
            { Day: { } day } => language.Date(day),
            { Moment: { } at } => language.Date(DateOnly.FromDateTime(at.DateTime)) + at.ToString(" HH:mm", CultureInfo.InvariantCulture),
            { Word: { } word } => language[KeyOf(word)],
            _ => string.Join(Between, (value.Parts ?? []).Select(p => p.InWords(language))),
        };

    /// <summary>As it was entered: no more than two decimals, and none that are nothing.</summary>
    private static string Number(double number, ReportLanguage language) =>
        number.ToString("0.##", CultureInfo.InvariantCulture).Replace(".", language["number.decimal"], StringComparison.Ordinal);
}
