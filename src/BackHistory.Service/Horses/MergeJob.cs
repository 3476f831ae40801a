using BackHistory.Application.Horses;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Horses;

/// <summary>Goes on with merges of horses that were interrupted half-way.</summary>
public sealed class MergeJob(KnownPractices known, MergeHorseRegistrations merge, TimeProvider time)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Evaluation)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await merge.Finish(practice, time.GetUtcNow(), ct);
    }
}
