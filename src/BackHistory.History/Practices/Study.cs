namespace BackHistory.History.Practices;

/// <summary>A study of repeatability that stands.</summary>
public sealed record Study(
    Guid StudyId,
    string Measure,
    string? Station,
    string Method,
    IReadOnlyList<Guid> Raters,
    IReadOnlyList<IReadOnlyList<double>> Subjects,
    DateTimeOffset TakenAt
);
