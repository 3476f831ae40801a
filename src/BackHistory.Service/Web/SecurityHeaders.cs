using BackHistory.Service.Configuration;

namespace BackHistory.Service.Web;

/// <summary>What a browser is told not to do.</summary>
public static class SecurityHeaders
{
    private const string Strict =
        "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; object-src 'none'; "
        + "base-uri 'none'; frame-ancestors 'none'; form-action 'self'";

    /// <summary>Two years (common practice, no source): whoever serves over https once does not go back.</summary>
    private const string OnlyHttps = "max-age=63072000; includeSubDomains";

    /// <summary>The reference page of the API configures itself in an inline script and styles itself: it holds nobody's data.</summary>
    private const string Reference =
        "default-src 'self'; script-src 'self' 'unsafe-inline'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; object-src "
        + "'none'; base-uri 'none'; frame-ancestors 'none'";

    private static readonly string[] BySecret = ["/look", "/letter", "/welcome", "/new-password", "/confirm-address", "/calendar"];

    public static void UseSecurityHeaders(this WebApplication app, Settings settings) =>
        app.Use(
            (http, next) =>
            {
                var headers = http.Response.Headers;
                if (settings.PublicUrl?.Scheme == Uri.UriSchemeHttps)
                    headers.StrictTransportSecurity = OnlyHttps;
                headers.ContentSecurityPolicy = http.Request.Path.StartsWithSegments("/api/reference", StringComparison.Ordinal)
                    ? Reference
                    : Strict;
                headers.XContentTypeOptions = "nosniff";
                headers.XFrameOptions = "DENY";
                headers["Cross-Origin-Resource-Policy"] = "same-origin";
                // A page that is opened by a secret in its address tells nobody that address, and no search engine keeps it.
                var secret = Array.Exists(BySecret, prefix => http.Request.Path.StartsWithSegments(prefix, StringComparison.Ordinal));
                headers["Referrer-Policy"] = secret ? "no-referrer" : "same-origin";
                if (secret)
                    headers["X-Robots-Tag"] = "noindex, nofollow";
                // What is somebody's stays in no cache but the browser's own; what is everybody's says so itself.
                http.Response.OnStarting(
                    static state =>
                    {
                        var response = ((HttpContext)state).Response;
                        if (string.IsNullOrEmpty(response.Headers.CacheControl))
                            response.Headers.CacheControl = "no-store";
                        return Task.CompletedTask;
                    },
                    http
                );
                headers["Permissions-Policy"] = "camera=(self), geolocation=(), microphone=()";
                headers["Cross-Origin-Opener-Policy"] = "same-origin";
                // The worker lies with the other scripts and looks after the pages of the whole site.
                if (http.Request.Path == "/js/worker.js")
                    headers["Service-Worker-Allowed"] = "/";
                return next(http);
            }
        );
}
