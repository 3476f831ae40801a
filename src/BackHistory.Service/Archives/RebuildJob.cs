using BackHistory.Service.Jobs;
using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Rebuilds;
using Hangfire;
using Npgsql;

namespace BackHistory.Service.Archives;

/// <summary>Builds what people read of a practice's horses anew, while they read it.</summary>
public sealed class RebuildJob(
    KnownPractices known,
    ShadowRebuild rebuild,
    PracticeQueries practices,
    NpgsqlDataSource database,
    TimeProvider time
)
{
    private const int TellEvery = 20;

    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await using var turn = await AdvisoryLock.TryTake(database, $"rebuild:{practice}", ct);
        if (turn is null)
            return;
        var run = await rebuild.Run(
            practice,
            time.GetUtcNow(),
            run => run.Done % TellEvery == 0 || run.Done == run.Horses ? practices.Save(practice, [run], ct) : Task.CompletedTask,
            ct
        );
        await practices.Save(practice, [run with { FinishedAt = time.GetUtcNow() }], ct);
    }
}
