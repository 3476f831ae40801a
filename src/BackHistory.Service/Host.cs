using System.Runtime.InteropServices;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Decisions;
using BackHistory.Language.Reminders;
using BackHistory.Service.Access.Joining;
using BackHistory.Service.Access.Me;
using BackHistory.Service.Access.SignIn;
using BackHistory.Service.Archives;
using BackHistory.Service.Audit;
using BackHistory.Service.Caseload;
using BackHistory.Service.Compare;
using BackHistory.Service.Configuration;
using BackHistory.Service.Demo;
using BackHistory.Service.Erasing;
using BackHistory.Service.Find;
using BackHistory.Service.Horses;
using BackHistory.Service.Imports;
using BackHistory.Service.Jobs;
using BackHistory.Service.Practices;
using BackHistory.Service.Reminders;
using BackHistory.Service.Saddles;
using BackHistory.Service.Sharing;
using BackHistory.Service.Store;
using BackHistory.Service.Tracings;
using BackHistory.Service.Trends;
using BackHistory.Service.Visits;
using BackHistory.Service.Web;
using BackHistory.Store;
using BackHistory.Store.Setup;

namespace BackHistory.Service;

/// <summary>The service as a list of what it is.</summary>
public static class Host
{
    /// <summary>Starts the database where the user has none, then serves until it is told to stop.</summary>
    public static async Task<int> Serve(string[] args)
    {
        Settings settings;
        try
        {
            settings = Settings.FromEnvironment(new ConfigurationBuilder().AddEnvironmentVariables().Build());
            StateFolder.Close(settings.State);
        }
        catch (Exception e) when (e is SettingException or OpenFolderException)
        {
            await Console.Error.WriteLineAsync(e.Message);
            return 1;
        }

        using var alone = OnlyOne.TryTake(settings.State);
        if (alone is null)
        {
            await Console.Error.WriteLineAsync(
                $"Another BackHistory is using {settings.State}. Stop it, or set BACKHISTORY_STATE to another folder."
            );
            return 1;
        }

        StateFolder.Sweep(settings.State);
        using var stop = new CancellationTokenSource();
        using var interrupted = StopOn(PosixSignal.SIGINT, stop);
        using var terminated = StopOn(PosixSignal.SIGTERM, stop);
        try
        {
            await using var postgres = settings.Database is null
                ? await PrivatePostgres.Start(Path.Combine(settings.State, "postgres"), durable: true, default)
                : null;
            var database = settings.Database ?? await postgres!.ConnectionString("backhistory", default);
            stop.Token.ThrowIfCancellationRequested();
            await using var app = Build(settings, database);
            await StoreSetup.ApplySchema(app.Services);
            await HostingAbstractionsHostExtensions.RunAsync(app, stop.Token);
            return 0;
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            return 0;
        }
        catch (Exception e) when (e is PostgresMissingException or TenantIsolationException)
        {
            await Console.Error.WriteLineAsync(e.Message);
            return 1;
        }
        catch (IOException e) when (e.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            await Console.Error.WriteLineAsync(
                $"Something else is listening on {settings.Urls}. Stop it, or set BACKHISTORY_URLS to another address."
            );
            return 1;
        }
    }

    /// <summary>Told to stop while it is still starting, the service stops its database too.</summary>
    private static PosixSignalRegistration StopOn(PosixSignal signal, CancellationTokenSource stop) =>
        PosixSignalRegistration.Create(
            signal,
            context =>
            {
                context.Cancel = true;
                stop.Cancel();
            }
        );

    /// <summary>The service over a database; tests start the same.</summary>
    public static WebApplication Build(Settings settings, string database, Action<WebApplicationBuilder>? change = null)
    {
        var builder = WebApplication.CreateBuilder(
            new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory, ApplicationName = typeof(Host).Assembly.GetName().Name }
        );
        builder.WebHost.UseStaticWebAssets();
        builder.WebHost.UseUrls(settings.Urls);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.Limits.MaxRequestBodySize = BodyLimits.Most;
            kestrel.AddServerHeader = false;
        });
        builder
            .Logging.AddFilter("Marten", LogLevel.Warning)
            .AddFilter("Marten.IDocumentStore", LogLevel.Critical)
            .AddFilter("Hangfire", LogLevel.Warning)
            .AddFilter("Microsoft.AspNetCore", LogLevel.Warning);
        builder.Services.AddSingleton(settings);
        builder.Services.AddSingleton<TimeProvider>(new MicrosecondClock(TimeProvider.System));
        builder.Services.AddSingleton<ReminderSentence>(ReminderSentences.InEnglish);
        builder.Services.AddSingleton<StateSentence>(DecisionSentences.InEnglish);
        builder.Services.AddHistory(database, settings.Member);
        builder.Services.AddAccess(settings);
        builder.Services.AddLimits(settings);
        builder.Services.AddAudit();
        builder.Services.AddSharing();
        builder.Services.AddJobs(database);
        builder.Services.AddArchives(settings.WebhooksInside);
        builder.Services.AddApi();
        builder.Services.AddPages(settings);
        builder.Services.AddDemo();
        builder.Services.AddHostedService<TryAgainAfterUpgrade>();
        change?.Invoke(builder);

        var app = builder.Build();
        app.UseProxies(settings);
        app.UsePublicAddress(settings);
        app.UseProblems();
        app.UseSecurityHeaders(settings);
        app.UseResponseCompression();
        app.UseReadiness();
        app.UseRouting();
        app.UseNothingThere([.. settings.Access.External.Select(p => p.CallbackPath)]);
        app.MapStaticAssets().AllowAnonymous();
        app.UseSameSite();
        app.UseAuthentication();
        app.UseRateLimiter();
        app.UseAuthorization();
        app.UseEnteredBy();
        app.UseTexts();
        app.UsePageAddresses();
        app.UseAntiforgery();
        app.UseAudit();
        app.MapHealth();
        app.MapSignIn();
        app.MapPasskeySignIn();
        app.MapExternalSignIn();
        app.MapRecovery();
        app.MapMyAccount();
        app.MapSecondFactor();
        app.MapMembers();
        app.MapKeys();
        app.MapLook();
        app.MapShareForms();
        app.MapLetterAnswers();
        app.MapReminderForms();
        app.MapLetterForms();
        app.MapLearningForms();
        app.MapPlanForms();
        app.MapCalendars();
        app.MapEvaluationHealth();
        app.MapJobs();
        app.MapPages();

        var api = app.MapApi();
        api.MapHorses();
        api.MapCare();
        api.MapMerging();
        api.MapPast();
        api.MapHorseFiles();
        api.MapVisits();
        api.MapVisitEntries();
        api.MapDrawings();
        api.MapMeshes();
        api.MapVisitSurface();
        api.MapMeasures();
        api.MapDecision();
        api.MapCondition();
        api.MapCharts();
        api.MapMeasuring();
        api.MapCompare();
        api.MapSaddles();
        api.MapBench();
        api.MapFind();
        api.MapSaddleUse();
        api.MapSaddleFiles();
        api.MapCaseload();
        api.MapReminders();
        api.MapFirstLetters();
        api.MapReminderRules();
        api.MapLetterTemplates();
        api.MapPlan();
        api.MapCalendarFeeds();
        api.MapDeliveryReports();
        api.MapThresholds();
        api.MapPractice();
        api.MapStudies();
        api.MapLearning();
        api.MapOutlook();
        api.MapPeople();
        api.MapImport();
        api.MapErasing();
        api.MapReadModels();
        api.MapArchive();
        api.MapChanges();
        api.MapWebhooks();
        api.MapSharing();
        api.MapAudit();
        api.MapMyKeys();
        return app;
    }
}
