using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Store.Rebuilds;

namespace BackHistory.Application.Archives;

/// <summary>Builds what people read of a practice's horses anew, while they read it.</summary>
public sealed class ReadModelRebuild(AdvisoryLocks turns, ShadowRebuild rebuild, PracticeQueries practices, TimeProvider time)
{
    private const int TellEvery = 20;

    /// <summary>Whoever has the turn does it; a second one at the same time does nothing.</summary>
    public async Task Run(string practice, CancellationToken ct)
    {
        await using var turn = await turns.TryTake($"rebuild:{practice}", ct);
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
