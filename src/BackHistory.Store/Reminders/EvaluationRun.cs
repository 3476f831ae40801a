using BackHistory.History;

namespace BackHistory.Store.Reminders;

/// <summary>When a practice was last evaluated to the end, for whoever watches that it is.</summary>
/// <param name="Id">Always the same: a practice has one.</param>
/// <param name="Looked">How many horses that run looked at.</param>
public sealed record EvaluationRun(Guid Id, DateTimeOffset StartedAt, DateTimeOffset FinishedAt, int Looked)
{
    public static readonly Guid Only = DeterministicId.From("evaluation-run");
}
