using BackHistory.Application.Evaluation;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Evaluates a practice, then sees that its letters go out.</summary>
public sealed class EvaluationJob(KnownPractices known, PracticeEvaluation evaluation, IBackgroundJobClient jobs)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Evaluation)]
    [AutomaticRetry(Attempts = 5)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        if (await evaluation.Run(practice, ct))
            jobs.Enqueue<LetterJob>(job => job.Run(practice, CancellationToken.None));
    }
}
