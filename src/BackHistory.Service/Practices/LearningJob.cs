using BackHistory.Application.Practices;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Practices;

/// <summary>Lets a practice learn from its horses and hands in the background.</summary>
public sealed class LearningJob(KnownPractices all, PracticeLearning learning)
{
    /// <summary>Every week.</summary>
    [Queue(JobQueues.Learning)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await all.Demand(practice, ct);
        await learning.Weekly(practice, ct);
    }

    /// <summary>Because somebody asked for it, or finished a study.</summary>
    [Queue(JobQueues.Learning)]
    [AutomaticRetry(Attempts = 3)]
    public async Task RunFor(string practice, Guid actor, Guid key, CancellationToken ct)
    {
        await all.Demand(practice, ct);
        await learning.Asked(practice, actor, key, ct);
    }
}
