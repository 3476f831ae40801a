using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>A study of repeatability that was done elsewhere, as a whole table.</summary>
public sealed class EnterStudy(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Raters">Who measured, in the order of the columns; none where one person did it all.</param>
    /// <param name="Subjects">A row a horse, a column a rater or a repeat, in the measure's unit.</param>
    /// <param name="TakenAt">Now when null.</param>
    public sealed record Input(
        Guid StudyId,
        string Measure,
        string? Station,
        string Method,
        IReadOnlyList<Guid> Raters,
        IReadOnlyList<IReadOnlyList<double>> Subjects,
        DateTimeOffset? TakenAt
    );

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state =>
                PracticeDecider.Decide(
                    state,
                    new StudyRepeatability(
                        input.StudyId,
                        input.Measure,
                        input.Station,
                        input.Method,
                        input.Raters,
                        input.Subjects,
                        input.TakenAt ?? by.Context.Now,
                        by.Context.Actor
                    ),
                    by.Context.Now
                ),
            ct
        );
}
