using BackHistory.History;
using Microsoft.AspNetCore.Diagnostics;

namespace BackHistory.Service.Web;

/// <summary>What happens to a request that failed: problem details for programs, a page for people, and never a stack trace.</summary>
public static class ErrorHandling
{
    public static void UseProblems(this WebApplication app)
    {
        app.UseExceptionHandler(
            new ExceptionHandlerOptions
            {
                ExceptionHandler = Answer,
                // What a caller did wrong is told to the caller; the log is for what we did wrong.
                SuppressDiagnosticsCallback = context => context.Exception is BadHttpRequestException,
            }
        );
        app.UseStatusCodePages(async context =>
        {
            var http = context.HttpContext;
            if (IsApi(http))
                await Results.Problem(statusCode: http.Response.StatusCode, detail: Words(http.Response.StatusCode)).ExecuteAsync(http);
            else if (http.Response.StatusCode == StatusCodes.Status404NotFound)
                await Page(http, "There is nothing here.", "The address is wrong, or what stood here is not yours to see.");
        });
    }

    /// <summary>An address where nothing is answers as such to everybody, before anybody is asked who they are.</summary>
    /// <param name="answeredBefore">Addresses without an endpoint that are answered all the same: where sign-in services send people back
    /// to.</param>
    public static void UseNothingThere(this WebApplication app, params IReadOnlyList<string> answeredBefore) =>
        app.Use(
            (http, next) =>
            {
                if (answeredBefore.Contains(http.Request.Path.Value, StringComparer.OrdinalIgnoreCase))
                    return next(http);
                // What stands in for files that do not exist is nothing either.
                if (
                    http.GetEndpoint() is { } there and not RouteEndpoint { RoutePattern.RawText: "{**path:file}" }
                    && there.RequestDelegate is not null
                )
                    return next(http);
                http.Response.StatusCode = StatusCodes.Status404NotFound;
                return Task.CompletedTask;
            }
        );

    private static async Task Answer(HttpContext http)
    {
        var error = http.Features.Get<IExceptionHandlerFeature>()?.Error;
        if (error is BadHttpRequestException bad)
        {
            http.Response.StatusCode = bad.StatusCode;
            var detail =
                bad.StatusCode == StatusCodes.Status413PayloadTooLarge
                    ? $"The request is larger than {BodyLimits.Most >> 20} MB. Nothing was saved; send fewer tracings at once."
                    : "The request cannot be read.";
            await Results.Problem(statusCode: bad.StatusCode, detail: detail).ExecuteAsync(http);
            return;
        }

        http.Response.StatusCode = StatusCodes.Status500InternalServerError;
        const string Said =
            "Something went wrong on our side. What you had saved before is safe; what you just sent may not have been saved. Try again.";
        if (IsApi(http))
            await Results.Problem(statusCode: 500, detail: Said).ExecuteAsync(http);
        else
            await Page(http, "Something went wrong.", Said);
    }

    /// <summary>A request that is refused before any page or program has looked at it.</summary>
    internal static Task Refuse(HttpContext http, Refused refused)
    {
        http.Response.StatusCode = StatusCodes.Status400BadRequest;
        if (!IsApi(http))
            return Page(http, "This cannot be read.", refused.Message);
        var code = new Dictionary<string, object?>(StringComparer.Ordinal) { ["code"] = refused.Code };
        return Results.Problem(statusCode: StatusCodes.Status400BadRequest, detail: refused.Message, extensions: code).ExecuteAsync(http);
    }

    /// <summary>The same for whatever stands behind the status: a key that is over and one that never was are told the same.</summary>
    private static string? Words(int status) =>
        status switch
        {
            StatusCodes.Status401Unauthorized =>
                "Nobody is signed in here, or the key is unknown, was ended or has expired. Sign in, or make a new key under your account.",
            StatusCodes.Status403Forbidden => "You may not do this here. Nothing was changed; ask the administrator of the practice.",
            StatusCodes.Status404NotFound => "There is nothing here: the address is wrong, or what stood here is not yours to see.",
            _ => null,
        };

    private static bool IsApi(HttpContext http) => http.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal);

    private static Task Page(HttpContext http, string title, string text)
    {
        http.Response.ContentType = "text/html; charset=utf-8";
        return http.Response.WriteAsync(
            $"<!doctype html><html lang=en><meta charset=utf-8><meta name=viewport content='width=device-width'><title>{title}</title>"
                + $"<link rel=stylesheet href=/app.css><main class=narrow><h1>{title}</h1><p>{text}</p><p><a href=/>Back to the "
                + $"caseload</a></p></main></html>"
        );
    }
}
