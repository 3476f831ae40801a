using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Jobs;

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

public static class EvaluationHealth
{
    // Open on purpose: it says how late evaluations are, and nothing of whom.
    public static void MapEvaluationHealth(this WebApplication app) =>
        app.MapGet("/health/evaluations", Look).AllowAnonymous().ExcludeFromDescription();

    private static async Task<IResult> Look(Readiness readiness, EvaluationWatch watch, CancellationToken ct)
    {
        if (readiness.WaitingFor is { } waiting)
            return Results.Text(waiting, statusCode: StatusCodes.Status503ServiceUnavailable);
        var longest = await watch.Longest(ct);
        JobMetrics.EvaluationsBehind(longest);
        var text = FormattableString.Invariant($"The practice evaluated longest ago: {longest.TotalMinutes:0} minutes.");
        return Results.Text(
            text,
            statusCode: longest > EvaluationWatch.Late ? StatusCodes.Status503ServiceUnavailable : StatusCodes.Status200OK
        );
    }
}
