using System.Text.Json;
using System.Text.Json.Serialization;
using BackHistory.History.Accounts;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using JasperFx;
using JasperFx.Events.Daemon;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace BackHistory.History.Store;

/// <summary>How the history lies in PostgreSQL.</summary>
public static class MartenSetup
{
    /// <summary>Registers the event store, its read models and the daemon that keeps them.</summary>
    /// <param name="daemon">Whether this process runs the daemon; a tool that only writes does not.</param>
    public static IServiceCollection AddHistory(this IServiceCollection services, Func<IServiceProvider, NpgsqlDataSource> dataSource, bool daemon = true)
    {
        var marten = services
            .AddMarten(sp =>
            {
                var options = new StoreOptions();
                Configure(options);
                options.Connection(dataSource(sp));
                return options;
            })
            .UseLightweightSessions();
        if (daemon) marten.AddAsyncDaemon(DaemonMode.HotCold);
        services.AddSingleton<Commands>();
        services.AddSingleton<Progress>();
        services.AddSingleton<AccountDocuments>();
        services.AddSingleton<HorseQueries>();
        services.AddSingleton<Caseload>();
        services.AddSingleton<SaddleQueries>();
        services.AddSingleton<PracticeQueries>();
        services.AddSingleton<KnownPractices>();
        services.AddSingleton<ReminderQueries>();
        services.AddSingleton<Evaluation>();
        services.AddSingleton<EvaluationRuns>();
        services.AddSingleton<DryRuns>();
        services.AddSingleton<PlanQueries>();
        services.AddSingleton<CalendarFeeds>();
        return services;
    }

    /// <summary>Brings the database's schema to what this version needs. Nothing else ever changes it.</summary>
    public static Task ApplySchema(IServiceProvider services) =>
        services.GetRequiredService<IDocumentStore>().Storage.ApplyAllConfiguredChangesToDatabaseAsync(AutoCreate.CreateOrUpdate);

    /// <summary>Everything but the connection; tests and tools use the same.</summary>
    public static void Configure(StoreOptions options)
    {
        options.DatabaseSchemaName = "history";
        options.AutoCreateSchemaObjects = AutoCreate.None;
        options.UseSystemTextJsonForSerialization(ConfiguredJson());

        options.Events.TenancyStyle = JasperFx.MultiTenancy.TenancyStyle.Conjoined;
        options.Policies.AllDocumentsAreMultiTenanted();
        options.Events.UseMandatoryStreamTypeDeclaration = true;
        options.Events.MetadataConfig.EnableAll();
        EventAliases.Map(options.Events);

        options.Projections.Errors.SkipApplyErrors = false;
        options.Projections.Errors.SkipUnknownEvents = false;
        options.Projections.Errors.SkipSerializationErrors = false;
        options.Projections.RebuildErrors.SkipApplyErrors = false;
        options.Projections.RebuildErrors.SkipUnknownEvents = false;
        options.Projections.RebuildErrors.SkipSerializationErrors = false;

        options.Projections.FastPollingTime = TimeSpan.FromMilliseconds(100);
        options.Projections.SlowPollingTime = TimeSpan.FromMilliseconds(250);
        ReadModels.Add(options);
    }

    /// <summary>How events and documents are written: camel case, enums by name, points as [x, y].</summary>
    public static JsonSerializerOptions ConfiguredJson() => new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower), new PointConverter() },
    };
}
