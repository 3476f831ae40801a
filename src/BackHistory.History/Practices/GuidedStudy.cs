namespace BackHistory.History.Practices;

/// <summary>A study that is recorded as visits, one horse after another.</summary>
public sealed record GuidedStudy(
    Guid StudyId,
    string Method,
    int Horses,
    int Times,
    IReadOnlyList<CountedVisit> Visits,
    bool Finished,
    DateTimeOffset BegunAt,
    Guid By
)
{
    public int HorsesDone => Visits.Select(v => v.HorseId).Distinct().Count();
}
