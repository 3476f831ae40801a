using BackHistory.Application.Imports;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Imports;

/// <summary>Enters an import or takes it back.</summary>
public sealed class ImportJob(KnownPractices known, ImportRun run)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 10)]
    public async Task Run(string practice, Guid importId, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await run.Run(practice, importId, ct);
    }
}
