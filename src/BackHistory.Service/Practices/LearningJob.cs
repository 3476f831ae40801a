using BackHistory.History.Practices;
using BackHistory.Service.Jobs;
using BackHistory.Store;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Practices;

/// <summary>Learns from a practice's horses and hands and records what it found as events. Done twice under one key it is recorded once;
/// what was known is not recorded again.</summary>
public sealed class LearningJob(
    KnownPractices all,
    PracticeLearner learner,
    PracticeQueries practices,
    Commands commands,
    Progress progress,
    ChangeNotifier notifier,
    TimeProvider time
)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <summary>Every week: the key follows from the day.</summary>
    [Queue(JobQueues.Learning)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await all.Demand(practice, ct);
        if (await practices.Load(practice, ct) is { } known)
            await Learn(practice, known, Guid.Empty, $"{PracticeClock.Today(known, time):yyyy-MM-dd}", ct);
    }

    /// <summary>Because somebody asked for it, or finished a study.</summary>
    [Queue(JobQueues.Learning)]
    [AutomaticRetry(Attempts = 3)]
    public async Task RunFor(string practice, Guid actor, Guid key, CancellationToken ct)
    {
        await all.Demand(practice, ct);
        if (await practices.Load(practice, ct) is { } known)
            await Learn(practice, known, actor, key.ToString(), ct);
    }

    private async Task Learn(string practice, History.Practices.Practice known, Guid actor, string key, CancellationToken ct)
    {
        await progress.Wait(await progress.Last(ct), Patience, time, ct);
        var (priors, noise) = await learner.Learn(practice, PracticeClock.Today(known, time), ct);
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, actor, $"learned:{key}", "", null, now);
        await commands.Execute<History.Practices.Practice>(
            context,
            known.Id,
            state => PracticeDecider.Decide(state, new AdoptLearned(priors, noise, actor), now),
            ct
        );
        notifier.SomethingHappened(practice);
    }
}
