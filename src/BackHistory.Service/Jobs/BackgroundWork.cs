using BackHistory.Application;
using BackHistory.Service.Archives;
using BackHistory.Service.Imports;
using BackHistory.Service.Practices;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>What acts leave to be done behind them, as jobs.</summary>
internal sealed class BackgroundWork(IBackgroundJobClient jobs) : IBackgroundWork
{
    public void Learn(string practice, Guid actor, Guid key) =>
        jobs.Enqueue<LearningJob>(job => job.RunFor(practice, actor, key, CancellationToken.None));

    public void TryRules(string practice, Guid runId) => jobs.Enqueue<DryRunJob>(job => job.Run(practice, runId, CancellationToken.None));

    public void GoOnWithImport(string practice, Guid importId) =>
        jobs.Enqueue<ImportJob>(job => job.Run(practice, importId, CancellationToken.None));

    public void RebuildReadModels(string practice) => jobs.Enqueue<RebuildJob>(job => job.Run(practice, CancellationToken.None));
}
