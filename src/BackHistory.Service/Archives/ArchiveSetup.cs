namespace BackHistory.Service.Archives;

/// <summary>Archives, the change feed and webhooks as part of the service.</summary>
public static class ArchiveSetup
{
    public static IServiceCollection AddArchives(this IServiceCollection services, bool webhooksInside) =>
        services.AddSingleton<ArchiveWriter>().AddSingleton<ArchiveReader>().AddSingleton<RebuildJob>().AddWebhooks(webhooksInside);
}
