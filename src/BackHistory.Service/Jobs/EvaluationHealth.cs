using BackHistory.Application;
using BackHistory.Application.Evaluation;
using BackHistory.Service.Web;

namespace BackHistory.Service.Jobs;

/// <summary>How late evaluations are, for whoever watches from outside.</summary>
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
        WorkMetrics.EvaluationsBehind(longest);
        var text = FormattableString.Invariant($"The practice evaluated longest ago: {longest.TotalMinutes:0} minutes.");
        return Results.Text(
            text,
            statusCode: longest > EvaluationWatch.Late ? StatusCodes.Status503ServiceUnavailable : StatusCodes.Status200OK
        );
    }
}
