using BackHistory.Application.Practices;
using BackHistory.Application.Sharing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Registration;

/// <summary>All acts, for whoever hosts them.</summary>
public static class Acts
{
    /// <summary>Every class that is an act.</summary>
    public static IReadOnlyList<Type> All { get; } =
    [.. typeof(Acts).Assembly.GetTypes().Where(t => t is { IsClass: true, IsAbstract: false } && t.IsAssignableTo(typeof(IAct)))];

    public static IServiceCollection AddActs(this IServiceCollection services)
    {
        services.AddSingleton<NotifyingCommands>();
        foreach (var act in All)
            services.AddSingleton(act);
        services.AddSingleton<PracticeWork>();
        services.AddSingleton<PracticeLearning>();
        services.AddSingleton<SharingWork>();
        return services;
    }
}
