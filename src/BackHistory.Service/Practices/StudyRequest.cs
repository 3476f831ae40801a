namespace BackHistory.Service.Practices;

/// <param name="Raters">Who measured, in the order of the columns; left out where one person did it all.</param>
/// <param name="Subjects">A row a horse, a column a rater or a repeat.</param>
public sealed record StudyRequest(
    string Measure,
    string? Station,
    string Method,
    IReadOnlyList<Guid>? Raters,
    IReadOnlyList<IReadOnlyList<double>> Subjects,
    DateTimeOffset? TakenAt
);
