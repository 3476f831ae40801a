using BackHistory.History.Horses;

namespace BackHistory.History.Practices;

/// <summary>Whether a table of repeats can be learned from.</summary>
internal static class StudyCheck
{
    public static Refused? Problem(StudyRepeatability c, DateTimeOffset now)
    {
        if (!PracticeDecider.IsKey(c.Measure))
            return new("no-measure", "Say which measure was repeated, by its key.", Place: "measure");
        if (c.Station?.Length > 60)
            return new("no-station", "A station's key has at most 60 letters.", Place: "station");
        if (string.IsNullOrWhiteSpace(c.Method) || c.Method.Length > 60)
            return HorseRefusals.NoMethod with { Place = "method" };
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never with { Place = "takenAt" };
        if (c.Subjects.Count is 0 or > 500)
            return new("no-subjects", "A study has between 1 and 500 horses, a row each.", Place: "subjects");
        if (!c.Subjects.Any(r => r.Count > 1))
            return new("no-repeats", "Nobody was measured twice: there is nothing to learn from.", Place: "subjects");
        for (var i = 0; i < c.Subjects.Count; i++)
        {
            if (c.Subjects[i].Count is 0 or > 50)
                return new("bad-row", "Each horse was measured between 1 and 50 times.", Place: $"subjects[{i}]");
            if (c.Subjects[i].Any(v => !double.IsFinite(v)))
                return new("not-finite", "A value is no number.", Place: $"subjects[{i}]");
            if (!c.Subjects[i].All(Plausible.Measured.Holds))
            {
                var why = $"A value lies outside {Plausible.Measured}: no measure of a horse does.";
                return new("implausible-value", why, Place: $"subjects[{i}]");
            }

            if (c.Raters.Count > 0 && c.Subjects[i].Count != c.Raters.Count)
                return new("bad-row", "Each row has a value for every person who measured.", Place: $"subjects[{i}]");
        }

        return null;
    }
}
