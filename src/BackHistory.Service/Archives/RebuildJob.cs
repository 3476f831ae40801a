using BackHistory.Application.Archives;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Archives;

/// <summary>Builds what people read of a practice's horses anew.</summary>
public sealed class RebuildJob(KnownPractices known, ReadModelRebuild rebuild)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Imports)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await rebuild.Run(practice, ct);
    }
}
