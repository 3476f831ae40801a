using BackHistory.Shape;

namespace BackHistory.Language.Visits;

/// <summary>What is said of a tracing that a person should look at, and what to do about it.</summary>
public static class FlagSentences
{
    public static string InWords(this QualityFlag flag, Formatter say)
    {
        var language = say.Language;
        var side = flag.Side switch
        {
            "left" => language["flag.side.left"],
            "right" => language["flag.side.right"],
            _ => "",
        };
        var measure = flag.Measure is { } key ? say.Measure(key) : "";
        return language[KeyOf(flag.Flag), say.Number(flag.Length, "mm"), side, measure, flag.Flag];
    }

    private static string KeyOf(string flag) =>
        flag switch
        {
            "gap" => "flag.gap",
            "level-tilt" => "flag.level-tilt",
            "midline-off" => "flag.midline-off",
            "halves-apart" => "flag.halves-apart",
            "end-curl" => "flag.end-curl",
            "second-pass" => "flag.second-pass",
            "marks-order" => "flag.marks-order",
            "mark-off" => "flag.mark-off",
            "mark-side" => "flag.mark-side",
            "uncertain" => "flag.uncertain",
            _ => "flag.other",
        };
}
