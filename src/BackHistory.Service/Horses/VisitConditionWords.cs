using BackHistory.History.Horses;
using BackHistory.Language.Visits;

namespace BackHistory.Service.Horses;

/// <summary>How a visit was measured, in words.</summary>
internal static class VisitConditionWords
{
    public static string InWords(VisitRecord visit)
    {
        var c = visit.Conditions;
        var parts = new List<string> { MethodWords.InWords(visit.Method) };
        if (c is { LevelGround: null, StoodSquare: null })
            parts.Add("nobody said how the ground was and how the horse stood");
        if (c.LevelGround is { } level)
            parts.Add(level ? "level ground" : "ground not level");
        if (c.StoodSquare is { } square)
            parts.Add(square ? "stood square" : "did not stand square");
        if (c.Head != HeadHeight.Natural)
            parts.Add($"head {c.Head.ToString().ToLowerInvariant()}");
        if (c.RiddenInLastTwoHours)
            parts.Add("ridden in the last two hours: backs are wider then");
        if (c.BodyWorkInLastDay)
            parts.Add("body work in the last day: the topline may have moved");
        if (c.Source == Source.SentIn)
            parts.Add("sent in by the owner");
        return string.Join(" · ", parts);
    }
}
