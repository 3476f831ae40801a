using Microsoft.Net.Http.Headers;

namespace BackHistory.Service.Web;

/// <summary>
/// A browser says where a request comes from (Fetch Metadata, W3C): one that changes something and comes from another site is refused
/// before anything looks at its cookies. Forms carry an antiforgery token besides; this holds for JSON too.
/// </summary>
public static class SameSiteSetup
{
    public static void UseSameSite(this WebApplication app) =>
        app.Use(
            (http, next) =>
            {
                if (
                    HttpMethods.IsGet(http.Request.Method)
                    || HttpMethods.IsHead(http.Request.Method)
                    || HttpMethods.IsOptions(http.Request.Method)
                )
                    return next(http);
                var site = http.Request.Headers["Sec-Fetch-Site"].ToString();
                // A program sends no such header; a program has no cookies either, unless somebody gave it some.
                if (site is "" or "same-origin" or "none" || !http.Request.Headers.ContainsKey(HeaderNames.Cookie))
                    return next(http);
                http.Response.StatusCode = StatusCodes.Status403Forbidden;
                return Task.CompletedTask;
            }
        );
}
