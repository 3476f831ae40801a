using System.Net;
using BackHistory.Service.Configuration;
using Microsoft.AspNetCore.Authentication;

namespace BackHistory.Service.Access.SignIn;

/// <summary>
/// Sends somebody on to a sign-in service by a page that goes on by itself. A redirect would answer the form, and browsers hold a form
/// back whose answer leads to another site than the content security policy names; which sites such a service leads over is its own to
/// know.
/// </summary>
/// <param name="failed">Where to go when the service cannot be reached.</param>
internal sealed partial class GoingOn(ExternalProvider provider, AuthenticationProperties properties, string failed) : IResult
{
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        var response = httpContext.Response;
        try
        {
            await httpContext.ChallengeAsync(provider.Scheme, properties);
        }
        catch (Exception e) when (e is InvalidOperationException or HttpRequestException or IOException)
        {
            // Its own description of itself could not be read, or says nothing that can be used.
            CannotBeReached(httpContext.RequestServices.GetRequiredService<ILogger<GoingOn>>(), provider.Authority, e);
            response.Redirect(failed);
            return;
        }

        if (response.Headers.Location.Count == 0)
            return;
        var to = response.Headers.Location.ToString();
        response.Headers.Remove("Location");
        response.StatusCode = StatusCodes.Status200OK;
        response.Headers["Refresh"] = $"0;url={to}";
        response.ContentType = "text/html; charset=utf-8";
        var (name, link) = (WebUtility.HtmlEncode(provider.Name), WebUtility.HtmlEncode(to));
        await response.WriteAsync(
            $"""
            <!doctype html><html lang=en><meta charset=utf-8><meta name=viewport content='width=device-width'>
            <title>Going on to {name}</title>
            <link rel=stylesheet href=/app.css><main class=narrow><h1>Going on to {name}</h1>
            <p><a href="{link}">Go on to {name}</a> if nothing happens.</p></main></html>
            """
        );
    }

    [LoggerMessage(LogLevel.Warning, "The sign-in service at {Authority} cannot be reached.")]
    private static partial void CannotBeReached(ILogger log, Uri authority, Exception e);
}
