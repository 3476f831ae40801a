using BackHistory.Application;
using BackHistory.Application.Evaluation;
using BackHistory.Application.Imports;
using BackHistory.Application.Letters;
using BackHistory.Service.Access;
using BackHistory.Service.Jobs;
using Hangfire;
using Hangfire.PostgreSql;

namespace BackHistory.Service;

/// <summary>The work that nobody waits for.</summary>
public static class JobsSetup
{
    public static IServiceCollection AddJobs(this IServiceCollection services, string database)
    {
        services.AddSingleton<ChangeNotifier>();
        services.AddSingleton<IChangeNotifier>(s => s.GetRequiredService<ChangeNotifier>());
        services.AddSingleton<IBackgroundWork, BackgroundWork>();
        services.AddSingleton<EvaluationJob>();
        services.AddSingleton<LetterJob>();
        services.AddSingleton<Horses.MergeJob>();
        services.AddImports();
        services.AddSingleton<Imports.ImportJob>();
        services.AddSingleton<Practices.LearningJob>();
        services.AddSingleton<DryRunJob>();
        services.AddSingleton<Reminders.FeedAddresses>();
        services.AddSingleton<DeliveryReports>();
        services.AddSingleton<DeliveryReportsJob>();
        services.AddSingleton<MailSender>();
        services.AddSingleton<IMailSender>(s => s.GetRequiredService<MailSender>());
        services.AddSingleton<Reminders.AnswerLinks>();
        services.AddSingleton<ILetterLinks>(s => s.GetRequiredService<Reminders.AnswerLinks>());
        services.AddEvaluation();
        services.AddSingleton<Schedule>();
        services.AddHangfire(
            (provider, hangfire) =>
                hangfire
                    .UseLogProvider(new JobLog(provider.GetRequiredService<ILoggerFactory>()))
                    .SetDataCompatibilityLevel(CompatibilityLevel.Version_180)
                    .UseSimpleAssemblyNameTypeSerializer()
                    .UseTypeResolver(JobTypes.Find)
                    .UseRecommendedSerializerSettings()
                    .UsePostgreSqlStorage(
                        o => o.UseNpgsqlConnection(database),
                        new PostgreSqlStorageOptions
                        {
                            SchemaName = "jobs",
                            PrepareSchemaIfNecessary = true,
                            UseSlidingInvisibilityTimeout = true,
                            InvisibilityTimeout = TimeSpan.FromMinutes(5),
                            // These locks are rows, held for moments: one that a killed service left behind must end before the next
                            // start gives up waiting (15 s).
                            DistributedLockTimeout = TimeSpan.FromSeconds(10),
                            AllowDegradedModeWithoutStorage = false,
                            QueuePollInterval = TimeSpan.FromSeconds(1),
                        }
                    )
        );
        foreach (var (queue, workers) in JobQueues.Workers)
            services.AddHangfireServer(server =>
            {
                server.ServerName = $"{Environment.MachineName}:{queue}";
                server.Queues = [queue];
                server.WorkerCount = workers;
                server.SchedulePollingInterval = TimeSpan.FromSeconds(5);
            });
        services.AddHostedService<EvaluationTrigger>();
        return services;
    }

    public static void MapJobs(this WebApplication app) =>
        app.MapHangfireDashboardWithAuthorizationPolicy(
            Policies.Operate,
            "/jobs",
            new DashboardOptions { Authorization = [], DisplayStorageConnectionString = false }
        );
}

/// <summary>Queues and their workers. Each has its own: what fills one, however long it takes, holds back nothing of another.</summary>
internal static class JobQueues
{
    public const string Evaluation = "a-evaluation";
    public const string Letters = "b-letters";
    public const string Learning = "c-learning";

    /// <summary>What somebody looks at later.</summary>
    public const string Leisure = "d-leisure";

    /// <summary>Imports, and read models that are built anew: whole histories, for as long as they take.</summary>
    public const string Imports = "e-imports";

    /// <summary>What waits for software of somebody else.</summary>
    public const string Webhooks = "f-webhooks";

    public static IReadOnlyList<(string Queue, int Workers)> Workers { get; } =
    [(Evaluation, 2), (Letters, 2), (Learning, 1), (Leisure, 1), (Imports, 2), (Webhooks, 1)];
}
