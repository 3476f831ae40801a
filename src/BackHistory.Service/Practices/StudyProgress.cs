using BackHistory.History.Practices;

namespace BackHistory.Service.Practices;

/// <param name="Next">What to do now, in a sentence.</param>
/// <param name="Visits">Each visit that counts, with how often the station that was taken least was taken; withdrawn visits are
/// gone.</param>
public sealed record StudyProgress(
    Guid StudyId,
    string Method,
    int Horses,
    int Times,
    bool Finished,
    int HorsesDone,
    string Next,
    IReadOnlyList<StudyVisit> Visits,
    IReadOnlyList<StudyFinding> Findings
);
