using System.Globalization;
using BackHistory.Store;
using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Web;

/// <summary>Health for machines, and a waiting page for people.</summary>
public static class ReadinessSetup
{
    public static void UseReadiness(this WebApplication app) =>
        app.Use(
            async (http, next) =>
            {
                var waiting = http.RequestServices.GetRequiredService<Readiness>().WaitingFor;
                if (
                    waiting is null
                    || http.Request.Path.StartsWithSegments("/health", StringComparison.Ordinal)
                    || http.Request.Path.Value is "/app.css"
                )
                {
                    await next(http);
                    return;
                }

                http.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
                http.Response.Headers.RetryAfter = "2";
                http.Response.Headers["Refresh"] = "2";
                http.Response.ContentType = "text/html; charset=utf-8";
                await http.Response.WriteAsync(
                    "<!doctype html><html lang=en><meta charset=utf-8><meta name=viewport "
                        + "content='width=device-width'><title>BackHistory is getting ready</title>"
                        + $"<link rel=stylesheet href=/app.css><main class=narrow><h1>Getting ready</h1><p>{waiting}</p><p>This page "
                        + $"looks again by itself.</p></main></html>"
                );
            }
        );

    public static void MapHealth(this WebApplication app)
    {
        app.MapGet("/health/live", () => Results.Text("live")).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/health/ready", Ready).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/health/summary", Summary).AllowAnonymous().ExcludeFromDescription();
    }

    private static async Task<IResult> Ready(Readiness readiness, DatabaseHealth database, ReadModelWatch watch, CancellationToken ct)
    {
        if (readiness.WaitingFor is { } waiting)
            return Results.Text(waiting, statusCode: StatusCodes.Status503ServiceUnavailable);
        try
        {
            await database.Ask(ct);
            var (standing, _, _) = await watch.Look(ct);
            return standing.Count == 0 ? Results.Text("ready") : NotReady(Words(standing));
        }
        catch (Exception e) when (DatabaseHealth.IsUnreachable(e))
        {
            return Results.Text("The database does not answer.", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }

    /// <summary>Counts and lag, nothing of anybody's.</summary>
    private static async Task<IResult> Summary(ReadModelWatch watch, CancellationToken ct)
    {
        var (standing, last, behind) = await watch.Look(ct);
        var counts = string.Create(CultureInfo.InvariantCulture, $"{last} events, read models {behind} behind");
        return standing.Count == 0 ? Results.Text(counts) : NotReady($"{counts}. {Words(standing)}");
    }

    private static IResult NotReady(string why) => Results.Text(why, statusCode: StatusCodes.Status503ServiceUnavailable);

    /// <summary>Which stand still, where and since when; for whoever runs the service.</summary>
    private static string Words(IReadOnlyList<StandingReadModel> standing)
    {
        var each = standing.Select(s =>
            string.Create(
                CultureInfo.InvariantCulture,
                $"{s.Name ?? "what counts new events"} stands at {s.Position}, {s.Behind} behind, for {s.Since.TotalSeconds:0} s or longer"
            )
        );
        return $"Read models stand still: {string.Join("; ", each)}. "
            + "What was recorded is safe; the log of the service says why it is not read.";
    }
}
