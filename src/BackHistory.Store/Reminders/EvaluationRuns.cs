using Marten;

namespace BackHistory.Store.Reminders;

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
