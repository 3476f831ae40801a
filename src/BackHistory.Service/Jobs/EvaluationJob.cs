using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Looks at a practice's horses whose state can have changed, then sees that their letters go out.</summary>
public sealed class EvaluationJob(
    KnownPractices known,
    Evaluation evaluation,
    ReminderQueries reminders,
    DigestJob digests,
    EvaluationRuns runs,
    Progress progress,
    IBackgroundJobClient jobs,
    TimeProvider time
)
{
    /// <summary>Longer than read models ever lag while they follow; where they have stopped, what they know already is evaluated.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Evaluation)]
    [AutomaticRetry(Attempts = 5)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        // After a restart the word of a visit can come before the read models know it; the next word might come ten minutes later.
        await progress.Wait(await progress.Last(ct), Patience, time, ct);
        var started = time.GetUtcNow();
        var looked = await evaluation.Run(practice, ct);
        JobMetrics.Evaluated(looked, time.GetUtcNow() - started);
        await runs.Finished(practice, started, time.GetUtcNow(), looked, ct);
        await digests.Owe(practice, ct);
        if (await reminders.AnyOwed(practice, ct))
            jobs.Enqueue<LetterJob>(job => job.Run(practice, CancellationToken.None));
    }
}
