using System.Text.Json;
using System.Text.Json.Serialization;
using BackHistory.History.Horses;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Erasing;
using BackHistory.Store.Events;
using BackHistory.Store.Files;
using BackHistory.Store.Horses;
using BackHistory.Store.Imports;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;
using BackHistory.Store.Rebuilds;
using BackHistory.Store.Reminders;
using BackHistory.Store.Reminders.DryRuns;
using BackHistory.Store.Reminders.Lists;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Store.Saddles;
using BackHistory.Store.Sharing;
using JasperFx;
using JasperFx.Events.Daemon;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Weasel.Core;

namespace BackHistory.Store.Setup;

/// <summary>How the history lies in PostgreSQL.</summary>
public static class StoreSetup
{
    /// <summary>The key of the owner's connections.</summary>
    internal const string Owner = "owner";

    /// <summary>Registers the event store, its read models and the daemon that keeps them.</summary>
    /// <param name="owner">The connection string of the schema's owner.</param>
    /// <param name="member">Of the role as which practices are served; null for the one that tenant isolation makes itself.</param>
    /// <param name="daemon">Whether this process runs the daemon; a tool that only writes does not.</param>
    public static IServiceCollection AddHistory(this IServiceCollection services, string owner, string? member = null, bool daemon = true)
    {
        var databases = new Databases(
            TenantIsolation.Closed(owner),
            member is null ? TenantIsolation.MemberOf(owner) : TenantIsolation.Closed(member)
        );
        services.AddSingleton(_ => databases);
        services.AddKeyedSingleton(Owner, (_, _) => NpgsqlDataSource.Create(databases.OwnerString));
        // Whoever asks for a database without saying more gets one in which nothing is to be seen.
        services.AddSingleton(_ => NpgsqlDataSource.Create(databases.MemberString));
        services.AddSingleton(sp => new PracticeDatabase(sp.GetRequiredService<NpgsqlDataSource>()));
        services
            .AddMarten(sp =>
                Options(sp.GetRequiredService<NpgsqlDataSource>(), sp.GetRequiredService<MeasuredTracings>(), DaemonMode.ExternallyManaged)
            )
            .UseLightweightSessions();
        var whole = services.AddMartenStore<IWholeHistory>(sp =>
            Options(
                sp.GetRequiredKeyedService<NpgsqlDataSource>(Owner),
                sp.GetRequiredService<MeasuredTracings>(),
                DaemonMode.ExternallyManaged
            )
        );
        if (daemon)
            whole.AddAsyncDaemon(DaemonMode.HotCold);
        services.AddSingleton<AdvisoryLocks>();
        services.AddSingleton<DatabaseHealth>();
        services.AddSingleton<MeasuredTracings>();
        services.AddSingleton<Commands>();
        services.AddSingleton<FileStore>();
        services.AddSingleton<NoteQueries>();
        services.AddSingleton<Progress>();
        services.AddSingleton<AccountDocuments>();
        services.AddSingleton<SignInSessions>();
        services.AddSingleton<Invitations>();
        services.AddSingleton<AccessKeys>();
        services.AddSingleton<HorseQueries>();
        services.AddSingleton<VisitQueries>();
        services.AddSingleton<Merging>();
        services.AddSingleton<ImportStore>();
        services.AddSingleton<NameSearch>();
        services.AddSingleton<Erasure>();
        services.AddSingleton<ShadowRebuild>();
        services.AddSingleton<SetAsideQueries>();
        services.AddSingleton<SetAsideRetry>();
        services.AddSingleton<ReadModelWatch>();
        services.AddSingleton<ArchiveQueries>();
        services.AddSingleton<ArchiveIntake>();
        services.AddSingleton<StoreIdentity>();
        services.AddSingleton<Changes>();
        services.AddSingleton<WebhookStore>();
        services.AddSingleton<PastQueries>();
        services.AddSingleton<Caseload>();
        services.AddSingleton<Find>();
        services.AddSingleton<SaddleQueries>();
        services.AddSingleton<PracticeQueries>();
        services.AddSingleton<KnownPractices>();
        services.AddSingleton<PracticeLearner>();
        services.AddSingleton<StudyQueries>();
        services.AddSingleton<OutlookQueries>();
        services.AddSingleton<ReminderQueries>();
        services.AddSingleton<ReminderList>();
        services.AddSingleton<Evaluation>();
        services.AddSingleton<EvaluationRuns>();
        services.AddSingleton<DryRuns>();
        services.AddSingleton<PlanQueries>();
        services.AddSingleton<CalendarFeeds>();
        services.AddSingleton<SharingQueries>();
        services.AddSingleton<AuditBook>();
        return services;
    }

    /// <summary>Brings the database's schema to what this version needs, and raises tenant isolation. Nothing else ever changes
    /// it.</summary>
    /// <exception cref="TenantIsolationException">Tenant isolation cannot stand; the message says what to do.</exception>
    public static async Task ApplySchema(IServiceProvider services, CancellationToken ct = default)
    {
        var whole = services.GetRequiredService<IWholeHistory>();
        var owner = services.GetRequiredKeyedService<NpgsqlDataSource>(Owner);
        await whole.Storage.ApplyAllConfiguredChangesToDatabaseAsync(AutoCreate.CreateOrUpdate);
        await TenantIsolation.Raise(owner, services.GetRequiredService<Databases>().MemberString, ct);
        await StoreMigrations.Bring(whole, owner, ct);
    }

    private static StoreOptions Options(NpgsqlDataSource database, MeasuredTracings measured, DaemonMode mode)
    {
        var options = new StoreOptions();
        Configure(options, measured);
        options.Projections.AsyncMode = mode;
        options.Connection(database);
        return options;
    }

    /// <summary>The two logins of the service.</summary>
    private sealed record Databases(string OwnerString, string MemberString);

    /// <summary>Everything but the connection; tests and tools use the same.</summary>
    /// <param name="measured">What commands measured, where they and the read models are of one process.</param>
    public static void Configure(StoreOptions options, MeasuredTracings? measured = null)
    {
        options.DatabaseSchemaName = TenantIsolation.Schema;
        options.AutoCreateSchemaObjects = AutoCreate.None;
        // Marten takes casing and enums from its own arguments and drops what the options say of them.
        options.UseSystemTextJsonForSerialization(StoredJson.Options(), EnumStorage.AsString, Casing.CamelCase);

        options.Events.TenancyStyle = JasperFx.MultiTenancy.TenancyStyle.Conjoined;
        options.Policies.AllDocumentsAreMultiTenanted();
        // Every session names its practice to the database, and every document's table asks for it.
        options.UseRowLevelSecurity(TenantIsolation.Setting);
        options.Events.UseMandatoryStreamTypeDeclaration = true;
        options.Events.MetadataConfig.EnableAll();
        options.Events.MetadataConfig.UserNameEnabled = true;
        EventAliases.Map(options.Events);

        foreach (var errors in (ErrorHandlingOptions[])[options.Projections.Errors, options.Projections.RebuildErrors])
        {
            // What breaks inside a fold is set aside by the fold itself, and shown; what breaks outside breaks for every event alike.
            errors.SkipApplyErrors = false;
            // An event of a newer release: this one must not run on such a store, and readiness says so.
            errors.SkipUnknownEvents = false;
            // Bytes that cannot be read are of one event; the daemon notes it, and so it is shown and tried again.
            errors.SkipSerializationErrors = true;
        }

        options.Projections.FastPollingTime = TimeSpan.FromMilliseconds(100);
        options.Projections.SlowPollingTime = TimeSpan.FromMilliseconds(250);
        ReadModels.Add(options, measured ?? new MeasuredTracings());
    }

    /// <summary>How the interface writes: camel case, enums by name in kebab case, points as [x, y].</summary>
    public static JsonSerializerOptions ConfiguredJson() =>
        new(JsonSerializerDefaults.Web)
        {
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower), new PointConverter() },
        };
}
