using BackHistory.Service.Configuration;
using BackHistory.Service.Web;

namespace BackHistory.Service;

/// <summary>Pages are rendered on the server; scripts add only what needs a hand.</summary>
public static class PagesSetup
{
    public static IServiceCollection AddPages(this IServiceCollection services, Settings settings)
    {
        services.AddRazorComponents();
        var safe = settings.PublicUrl?.Scheme == Uri.UriSchemeHttps;
        services.AddAntiforgery(o =>
        {
            o.Cookie.Name = safe ? "__Host-backhistory-form" : "backhistory-form";
            o.Cookie.HttpOnly = true;
            o.Cookie.SameSite = SameSiteMode.Strict;
            o.Cookie.SecurePolicy = safe ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
            // One frame policy, in SecurityHeaders.
            o.SuppressXFrameOptionsHeader = true;
        });
        // Charts only: they shrink to a fifth, and nothing secret stands in them beside what a request says.
        services.AddResponseCompression(o =>
        {
            o.MimeTypes = ["image/svg+xml"];
            o.EnableForHttps = true;
        });
        services.AddScoped<SpokenLanguage>();
        services.AddSingleton<Readiness>();
        services.AddSingleton<Compare.Comparison>();
        services.AddSingleton<Saddles.SaddleProposals>();
        return services;
    }

    public static void MapPages(this WebApplication app) => app.MapRazorComponents<App>();
}
