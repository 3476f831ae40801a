namespace BackHistory.Service.Sharing;

/// <summary>Sharing as part of the service.</summary>
public static class SharingSetup
{
    public static IServiceCollection AddSharing(this IServiceCollection services)
    {
        services.AddSingleton<SharedLinks>();
        services.AddSingleton<SharedCharts>();
        services.AddSingleton<SharedRecord>();
        services.AddSingleton<ShareAccess>();
        services.AddSingleton<AskedReminder>();
        return services;
    }
}
