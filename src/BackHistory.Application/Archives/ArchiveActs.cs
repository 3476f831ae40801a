using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Archives;

/// <summary>Archives and rebuilding, for whoever hosts them.</summary>
public static class ArchiveActs
{
    public static IServiceCollection AddArchiving(this IServiceCollection services) =>
        services.AddSingleton<ArchiveWriter>().AddSingleton<ArchiveReader>().AddSingleton<ReadModelRebuild>();
}
