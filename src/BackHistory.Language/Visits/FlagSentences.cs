using BackHistory.Shape;

namespace BackHistory.Language.Visits;

/// <summary>What is said of a tracing that a person should look at, and what to do about it.</summary>
public static class FlagSentences
{
    public static string InWords(this QualityFlag flag, Formatter say)
    {
        var language = say.Language;
        var side = flag.Side is null ? null : language.Find($"flag.side.{flag.Side}");
        var measure = flag.Measure is { } key ? say.Measure(key) : "";
        var name = language.Find($"flag.{flag.Flag}") is null ? "flag.other" : $"flag.{flag.Flag}";
        return language[name, say.Number(flag.Length, "mm"), side ?? "", measure, flag.Flag];
    }
}
