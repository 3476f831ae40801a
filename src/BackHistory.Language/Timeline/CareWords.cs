using BackHistory.History.Horses;

namespace BackHistory.Language.Timeline;

/// <summary>Parts, kinds and loads of a horse's care in a word, as the timeline says them.</summary>
public static class CareWords
{
    public static string InWords(this CareKind kind, ReportLanguage language = default) => Word(language, "care", kind);

    public static string InWords(this CareRole role, ReportLanguage language = default) => Word(language, "care-role", role);

    public static string InWords(this WorkLoad load, ReportLanguage language = default) => Word(language, "work", load);

    private static string Word<T>(ReportLanguage language, string of, T value)
        where T : struct, Enum => language[$"timeline.word.{of}-{ClosedNames.Kebab(value.ToString())}"];
}
