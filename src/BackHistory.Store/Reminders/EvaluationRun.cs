using BackHistory.History;
using Marten;

namespace BackHistory.Store.Reminders;

/// <summary>When a practice was last evaluated to the end, for whoever watches that it is.</summary>
/// <param name="Id">Always the same: a practice has one.</param>
/// <param name="Looked">How many horses that run looked at.</param>
public sealed record EvaluationRun(Guid Id, DateTimeOffset StartedAt, DateTimeOffset FinishedAt, int Looked)
{
    public static readonly Guid Only = DeterministicId.Of("evaluation-run");
}

public sealed class EvaluationRuns(IDocumentStore store)
{
    public async Task<EvaluationRun?> Last(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<EvaluationRun>(EvaluationRun.Only, ct);
    }

    public async Task Finished(string practice, DateTimeOffset started, DateTimeOffset finished, int looked, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        session.Store(new EvaluationRun(EvaluationRun.Only, started, finished, looked));
        await session.SaveChangesAsync(ct);
    }
}
