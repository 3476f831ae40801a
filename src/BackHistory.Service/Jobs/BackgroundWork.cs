using BackHistory.Application;
using BackHistory.Service.Practices;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Work that acts begin, as jobs.</summary>
public sealed class BackgroundWork(IBackgroundJobClient jobs) : IBackgroundWork
{
    public void Learn(string practice, Guid actor, Guid key) =>
        jobs.Enqueue<LearningJob>(job => job.RunFor(practice, actor, key, CancellationToken.None));

    public void TryRules(string practice, Guid runId) => jobs.Enqueue<DryRunJob>(job => job.Run(practice, runId, CancellationToken.None));
}
