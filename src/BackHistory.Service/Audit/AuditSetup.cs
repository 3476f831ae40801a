namespace BackHistory.Service.Audit;

/// <summary>The audit as part of the service.</summary>
public static class AuditSetup
{
    public static IServiceCollection AddAudit(this IServiceCollection services)
    {
        services.AddSingleton<AuditTrail>();
        return services;
    }

    public static void UseAudit(this WebApplication app) =>
        app.Use(
            async (http, next) =>
            {
                await next(http);
                await http.RequestServices.GetRequiredService<AuditTrail>().Saw(http);
            }
        );
}
