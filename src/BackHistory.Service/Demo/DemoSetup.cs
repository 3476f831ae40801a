using BackHistory.Service.Configuration;

namespace BackHistory.Service.Demo;

/// <summary>The invented practice as part of the service.</summary>
public static class DemoSetup
{
    public static IServiceCollection AddDemo(this IServiceCollection services)
    {
        services.AddSingleton(sp => new DemoSize(Horses: sp.GetRequiredService<Settings>().DemoHorses));
        services.AddHostedService<DemoLoader>();
        return services;
    }
}
