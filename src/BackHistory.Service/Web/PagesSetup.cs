namespace BackHistory.Service.Web;

/// <summary>Pages are rendered on the server; scripts add only what needs a hand.</summary>
public static class PagesSetup
{
    public static IServiceCollection AddPages(this IServiceCollection services)
    {
        services.AddRazorComponents();
        services.AddAntiforgery(o => o.Cookie.Name = "backhistory-form");
        services.AddSingleton<Readiness>();
        services.AddSingleton<Trends.HorseData>();
        services.AddSingleton<Compare.Comparison>();
        return services;
    }

    public static void MapPages(this WebApplication app) => app.MapRazorComponents<App>();
}
