using BackHistory.Application;
using BackHistory.Service.Archives;
using BackHistory.Service.Imports;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>What acts leave to be done behind them, as jobs.</summary>
internal sealed class BackgroundWork(IBackgroundJobClient jobs) : IBackgroundWork
{
    public void GoOnWithImport(string practice, Guid importId) =>
        jobs.Enqueue<ImportJob>(job => job.Run(practice, importId, CancellationToken.None));

    public void RebuildReadModels(string practice) => jobs.Enqueue<RebuildJob>(job => job.Run(practice, CancellationToken.None));
}
