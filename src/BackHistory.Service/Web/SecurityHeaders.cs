namespace BackHistory.Service.Web;

/// <summary>What a browser is told not to do.</summary>
public static class SecurityHeaders
{
    private const string Strict =
        "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'";

    /// <summary>The reference page of the API configures itself in an inline script and styles itself: it holds nobody's data.</summary>
    private const string Reference =
        "default-src 'self'; script-src 'self' 'unsafe-inline'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; object-src 'none'; base-uri 'none'; frame-ancestors 'none'";

    public static void UseSecurityHeaders(this WebApplication app) => app.Use((http, next) =>
    {
        var headers = http.Response.Headers;
        headers.ContentSecurityPolicy = http.Request.Path.StartsWithSegments("/api/reference", StringComparison.Ordinal) ? Reference : Strict;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(self), geolocation=(), microphone=()";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        // The worker lies with the other scripts and looks after the pages of the whole site.
        if (http.Request.Path == "/js/worker.js") headers["Service-Worker-Allowed"] = "/";
        return next(http);
    });
}
