using BackHistory.History.Reminders;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Tries rules on a practice's own history.</summary>
public sealed class DryRunJob(DryRuns runs)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Leisure)]
    [AutomaticRetry(Attempts = 2)]
    public Task Run(string practice, Guid runId, CancellationToken ct) => runs.Carry(practice, runId, ct);
}
