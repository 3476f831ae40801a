using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Practices;

/// <summary>Learns from a practice's horses and hands and records what it found as events. Done twice under one key it is recorded once;
/// what was known is not recorded again.</summary>
public sealed class PracticeLearning(
    PracticeLearner learner,
    PracticeQueries practices,
    PracticeWork stream,
    Progress progress,
    TimeProvider time
)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <summary>Every week: the key follows from the day.</summary>
    public async Task Weekly(string practice, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is { } known)
            await Learn(practice, known, Guid.Empty, $"{Today(known):yyyy-MM-dd}", ct);
    }

    /// <summary>Because somebody asked for it, or finished a study.</summary>
    public async Task Asked(string practice, Guid actor, Guid key, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is { } known)
            await Learn(practice, known, actor, key.ToString(), ct);
    }

    private async Task Learn(string practice, Practice known, Guid actor, string key, CancellationToken ct)
    {
        await progress.Wait(await progress.Last(ct), Patience, time, ct);
        var (priors, noise) = await learner.Learn(practice, Today(known), ct);
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, actor, $"learned:{key}", "", null, now);
        await stream.Decide(context, state => PracticeDecider.Decide(state, new AdoptLearned(priors, noise, actor), now), ct);
    }

    private DateOnly Today(Practice practice) => PracticeClock.Day(practice, time.GetUtcNow());
}
