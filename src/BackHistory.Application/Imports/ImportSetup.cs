using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Imports;

/// <summary>Bringing in old tables, for whoever hosts it.</summary>
public static class ImportSetup
{
    public static IServiceCollection AddImports(this IServiceCollection services) =>
        services.AddSingleton<ParsedSheets>().AddSingleton<Importer>().AddSingleton<ImportRollback>().AddSingleton<ImportRun>();
}
