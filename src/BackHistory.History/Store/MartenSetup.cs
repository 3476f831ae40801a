using System.Text.Json;
using System.Text.Json.Serialization;
using BackHistory.History.Accounts;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using JasperFx;
using JasperFx.Events.Daemon;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Weasel.Core;

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
        services.AddSingleton<FileStore>();
        services.AddSingleton<NoteQueries>();
        services.AddSingleton<Progress>();
        services.AddSingleton<AccountDocuments>();
        services.AddSingleton<HorseQueries>();
        services.AddSingleton<Caseload>();
        services.AddSingleton<SaddleQueries>();
        services.AddSingleton<PracticeQueries>();
        services.AddSingleton<KnownPractices>();
        services.AddSingleton<PracticeLearner>();
        services.AddSingleton<StudyQueries>();
        services.AddSingleton<OutlookQueries>();
        services.AddSingleton<ReminderQueries>();
        services.AddSingleton<Evaluation>();
        return services;
    }

    /// <summary>Brings the database's schema to what this version needs. Nothing else ever changes it.</summary>
    public static Task ApplySchema(IServiceProvider services, CancellationToken ct = default) =>
        ApplySchema(services.GetRequiredService<IDocumentStore>(), services.GetRequiredService<NpgsqlDataSource>(), ct);

    /// <inheritdoc cref="ApplySchema(IServiceProvider, CancellationToken)"/>
    public static async Task ApplySchema(IDocumentStore store, NpgsqlDataSource database, CancellationToken ct = default)
    {
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync(AutoCreate.CreateOrUpdate);
        await OlderStores.Bring(store, database, ct);
    }

    /// <summary>Everything but the connection; tests and tools use the same.</summary>
    public static void Configure(StoreOptions options)
    {
        options.DatabaseSchemaName = "history";
        options.AutoCreateSchemaObjects = AutoCreate.None;
        // Marten takes casing and enums from its own arguments and drops what the options say of them.
        options.UseSystemTextJsonForSerialization(StoredJson(), EnumStorage.AsString, Casing.CamelCase);

        options.Events.TenancyStyle = JasperFx.MultiTenancy.TenancyStyle.Conjoined;
        options.Policies.AllDocumentsAreMultiTenanted();
        options.Events.UseMandatoryStreamTypeDeclaration = true;
        options.Events.MetadataConfig.EnableAll();
        options.Events.MetadataConfig.UserNameEnabled = true;
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

    /// <summary>How the interface writes: camel case, enums by name in kebab case, points as [x, y].</summary>
    public static JsonSerializerOptions ConfiguredJson() => new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower), new PointConverter() },
    };

    /// <summary>
    /// How events and documents lie in the store: camel case, enums by their own name (an order of names may change, a name may not), points as [x, y].
    /// Reads what earlier releases wrote, too: any casing, enums as numbers.
    /// </summary>
    public static JsonSerializerOptions StoredJson() => new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter(), new PointConverter() },
    };
}
