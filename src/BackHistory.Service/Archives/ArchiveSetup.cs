using BackHistory.Application.Archives;

namespace BackHistory.Service.Archives;

/// <summary>Archives, the change feed and webhooks as part of the service.</summary>
public static class ArchiveSetup
{
    public static IServiceCollection AddArchives(this IServiceCollection services, bool webhooksInside) =>
        services.AddArchiving().AddSingleton<RebuildJob>().AddWebhooks(webhooksInside);
}
