using BackHistory.Application.Imports;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Imports;

/// <summary>Enters an import or takes it back.</summary>
public sealed class ImportJob(KnownPractices known, ImportRun run, IBackgroundJobClient jobs)
{
    private static readonly TimeSpan Turn = TimeSpan.FromSeconds(5);

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Imports)]
    [AutomaticRetry(Attempts = 10)]
    public async Task Run(string practice, Guid importId, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        if (!await run.Run(practice, importId, ct))
            jobs.Schedule<ImportJob>(job => job.Run(practice, importId, CancellationToken.None), Turn);
    }
}
