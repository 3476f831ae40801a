using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Evaluation;

/// <summary>Whether every practice is still evaluated: a warning that comes late because nobody looked is worse than none.</summary>
public sealed class EvaluationWatch(KnownPractices practices, EvaluationRuns runs, TimeProvider time)
{
    /// <summary>Evaluations recur every ten minutes; three missed ones and a long run fit in.</summary>
    public static readonly TimeSpan Late = TimeSpan.FromMinutes(45);

    private readonly DateTimeOffset _watchedSince = time.GetUtcNow();

    /// <summary>Time since the practice that was evaluated longest ago; counted from the start of this service where that is
    /// later.</summary>
    public async Task<TimeSpan> Longest(CancellationToken ct)
    {
        var longest = TimeSpan.Zero;
        foreach (var practice in await practices.All(ct))
        {
            var last = (await runs.Last(practice.Id, ct))?.FinishedAt ?? DateTimeOffset.MinValue;
            var since = time.GetUtcNow() - (last > _watchedSince ? last : _watchedSince);
            if (since > longest)
                longest = since;
        }

        return longest;
    }
}
