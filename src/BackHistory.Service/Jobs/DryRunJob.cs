using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.DryRuns;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Tries rules on a practice's own history.</summary>
public sealed class DryRunJob(KnownPractices known, DryRuns runs)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Leisure)]
    [AutomaticRetry(Attempts = 2)]
    public async Task Run(string practice, Guid runId, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await runs.Carry(practice, runId, ct);
    }
}
