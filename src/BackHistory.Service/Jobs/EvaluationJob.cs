using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Looks at a practice's horses whose state can have changed, then sees that their letters go out.</summary>
public sealed class EvaluationJob(KnownPractices known, Evaluation evaluation, ReminderQueries reminders, IBackgroundJobClient jobs)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Evaluation)]
    [AutomaticRetry(Attempts = 5)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await evaluation.Run(practice, ct);
        if ((await reminders.Owed(practice, 1, ct)).Count > 0) jobs.Enqueue<LetterJob>(job => job.Run(practice, CancellationToken.None));
    }
}
