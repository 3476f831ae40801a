using BackHistory.History.Horses;

namespace BackHistory.History.Practices;

/// <summary>The study that is recorded as visits: begun, one horse after another, finished.</summary>
public static partial class PracticeDecider
{
    /// <summary>Five horses measured twice is common practice, no source; two of them say next to nothing.</summary>
    private const int FewestHorses = 3;

    public static Decided Decide(Practice? practice, BeginStudy c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (practice.GuidedStudies.ContainsKey(c.StudyId))
            return Decided.No("study-exists", "This study was begun already.", RefusalKind.Conflict);
        if (string.IsNullOrWhiteSpace(c.Method) || c.Method.Length > 60)
            return HorseRefusals.NoMethod with { Place = "method" };
        if (c.Horses is < FewestHorses or > 50)
            return Decided.No("bad-size", $"A study has between {FewestHorses} and 50 horses.", place: "horses");
        return c.Times is < 2 or > 5
            ? Decided.No("bad-size", "Each horse is measured between 2 and 5 times at a visit.", place: "times")
            : Decided.Yes(new RepeatabilityStudyBegun(c.StudyId, c.Method.Trim(), c.Horses, c.Times, now, c.By));
    }

    public static Decided Decide(Practice? practice, CountVisit c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (practice.GuidedStudies.GetValueOrDefault(c.StudyId) is not { } study)
            return NoSuchStudy;
        if (study.Finished)
            return Decided.No("study-finished", "This study is finished; begin another.", RefusalKind.Conflict);
        return study.Visits.Any(v => v.VisitId == c.VisitId)
            ? Decided.No("visit-counted", "This visit counts towards the study already.", RefusalKind.Conflict)
            : Decided.Yes(new RepeatedVisitCounted(c.StudyId, c.HorseId, c.VisitId, now, c.By));
    }

    public static Decided Decide(Practice? practice, FinishStudy c, DateTimeOffset now)
    {
        if (practice is null)
            return PracticeRefusals.NoSuchPractice;
        if (practice.GuidedStudies.GetValueOrDefault(c.StudyId) is not { } study)
            return NoSuchStudy;
        if (study.Finished)
            return Decided.No("study-finished", "This study is finished already.", RefusalKind.Conflict);
        return study.HorsesDone < FewestHorses
            ? Decided.No(
                "too-few-horses",
                $"{study.HorsesDone} of {study.Horses} horses are measured; under {FewestHorses} say nothing of a hand."
            )
            : Decided.Yes(new RepeatabilityStudyFinished(c.StudyId, now, c.By));
    }
}
