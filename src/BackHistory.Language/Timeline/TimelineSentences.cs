using System.Globalization;
using BackHistory.History;
using BackHistory.History.Timeline;

namespace BackHistory.Language.Timeline;

/// <summary>The lines of a horse's timeline. Each kind of fact has its sentence under <c>timeline.</c>, each word under
/// <c>timeline.word.</c>.</summary>
public static class TimelineSentences
{
    /// <summary>Between the parts of a line, as in the work on a saddle.</summary>
    private const string Between = "; ";

    /// <param name="zone">The practice's: by its clock hours are said.</param>
    public static string InWords(this TimelineEntry entry, TimeZoneInfo zone, ReportLanguage language = default) =>
        entry.Fact.InWords(zone, language);

    public static string InWords(this TimelineFact fact, TimeZoneInfo zone, ReportLanguage language = default) =>
        language[KeyOf(fact.Kind), [.. fact.Values.Select(v => (object)Said(v, zone, language))]];

    internal static string KeyOf(TimelineFactKind kind) => "timeline." + ClosedNames.Kebab(kind.ToString());

    internal static string KeyOf(TimelineWord word) => "timeline.word." + ClosedNames.Kebab(word.ToString());

    private static string Said(TimelineValue value, TimeZoneInfo zone, ReportLanguage language) =>
        value switch
        {
            { Text: { } text } => text,
            { Number: { } number } => Number(number, language),
            { Day: { } day } => language.Date(day),
            { Moment: { } at } => language.Date(ZoneClock.Day(at, zone))
                + ZoneClock.At(at, zone).ToString(" HH:mm", CultureInfo.InvariantCulture),
            { Word: { } word } => language[KeyOf(word)],
            _ => string.Join(Between, (value.Parts ?? []).Select(p => p.InWords(zone, language))),
        };

    /// <summary>As it was entered: no more than two decimals, and none that are nothing.</summary>
    private static string Number(double number, ReportLanguage language) =>
        number.ToString("0.##", CultureInfo.InvariantCulture).Replace(".", language["number.decimal"], StringComparison.Ordinal);
}
