using System.Net.Http.Headers;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service;
using BackHistory.Service.Configuration;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Store.Setup;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Console;

namespace BackHistory.Testing;

/// <summary>The real host on a real PostgreSQL, serving practices that know nothing of each other; tests and benches start the
/// same.</summary>
public sealed class ServedHost : IAsyncDisposable
{
    public const string Password = "a long enough password";

    /// <summary>The browser that looks at it: Debian's own, nothing is downloaded.</summary>
    public static string Chromium =>
        File.Exists("/usr/bin/chromium")
            ? "/usr/bin/chromium"
            : throw new InvalidOperationException("No Chromium is installed: ops/test Browser installs one.");

    private readonly Dictionary<string, string> _keys = new(StringComparer.Ordinal);

    private ServedHost(WebApplication app) => App = app;

    public WebApplication App { get; }

    public Uri Address { get; private set; } = null!;

    public IServiceProvider Services => App.Services;

    /// <summary>Everything that was logged, as a log file would hold it.</summary>
    public SaidInTheLog Said { get; private init; } = null!;

    /// <summary>Founds these practices and serves them; letters land in the folder <c>mail</c> of the state.</summary>
    public static Task<ServedHost> Start(string database, string state, params string[] practices) =>
        Start(SettingsOf(database, state), practices);

    /// <summary>The same with parts of the service replaced, a clock for example.</summary>
    public static Task<ServedHost> Start(string database, string state, Action<WebApplicationBuilder> replace, params string[] practices) =>
        Start(SettingsOf(database, state), practices, replace);

    /// <summary>The same with other limits or another address than usual.</summary>
    public static Task<ServedHost> Start(string database, string state, Func<Settings, Settings> change, params string[] practices) =>
        Start(change(SettingsOf(database, state)), practices);

    /// <summary>Serves the invented practice, filled as a first start fills it.</summary>
    public static async Task<ServedHost> Invented(string database, string state, int horses)
    {
        var host = await Start(SettingsOf(database, state) with { Demo = true, DemoHorses = horses }, []);
        var told = await File.ReadAllTextAsync(Path.Combine(state, "invented-practice"));
        await host
            .Services.GetRequiredService<Commands>()
            .LettersLeaveAtAnyHour(
                InventedTenant,
                (await host.Services.GetRequiredService<PracticeQueries>().Load(InventedTenant, default))!.Id,
                DateTimeOffset.UnixEpoch.AddYears(56)
            );
        host._keys[InventedTenant] = told[(told.LastIndexOf(' ') + 1)..].Trim();
        return host;
    }

    /// <summary>The tenant of the invented practice.</summary>
    public const string InventedTenant = "invented";

    private static Settings SettingsOf(string database, string state) =>
        new(
            "http://127.0.0.1:0",
            state,
            database,
            new MailSettings(null, 25, null, null, "practice@backhistory.invalid", "backhistory.invalid", Path.Combine(state, "mail")),
            Demo: false,
            PublicUrl: null
        )
        {
            // A test asks more in a second than a hand in an hour.
            Access = new AccessSettings { Limits = new AccessLimits(100_000, 1_000_000, 1_000_000) },
        };

    private static async Task<ServedHost> Start(Settings settings, string[] practices, Action<WebApplicationBuilder>? replace = null)
    {
        // Standard output belongs to whoever starts this: results of tests, figures of benches.
        var said = new SaidInTheLog();
        var host = new ServedHost(
            Host.Build(
                settings,
                settings.Database!,
                builder =>
                {
                    // A sign-in service of somebody else, and the cookies on the way to it, go by the clock of the world.
                    builder.Services.AddSingleton(settings.Access.External.Count > 0 ? TimeProvider.System : TestClock.Running);
                    builder.Services.Configure<ConsoleLoggerOptions>(console => console.LogToStandardErrorThreshold = LogLevel.Trace);
                    // The whole log is in memory; what reads beside the results is only what went wrong.
                    builder
                        .Logging.AddFilter<ConsoleLoggerProvider>(null, LogLevel.Error)
                        .AddFilter<ConsoleLoggerProvider>("Marten.IDocumentStore", LogLevel.Critical);
                    builder.Logging.AddProvider(said);
                    replace?.Invoke(builder);
                }
            )
        )
        {
            Said = said,
        };
        await StoreSetup.ApplySchema(host.Services);
        foreach (var practice in practices)
            await host.Found(practice);
        await host.App.StartAsync();
        host.Address = new Uri(host.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
        using var client = host.Anonymous();
        while (!(await client.GetAsync("/health/ready")).IsSuccessStatusCode)
            await Task.Delay(50);
        return host;
    }

    public HttpClient Anonymous() => new(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = Address };

    /// <summary>A client with the key of the practice's administrator.</summary>
    public HttpClient Client(string practice)
    {
        var client = Anonymous();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", _keys[practice]);
        return client;
    }

    public static string EmailOf(string practice) => $"administrator@{practice}.invalid";

    /// <summary>A person of the practice, with an address where letters reach them.</summary>
    public async Task<Guid> Person(string practice, string name, PersonRole role = PersonRole.Owner, string language = "en")
    {
        var id = DeterministicId.From("person", practice, name);
        await Services
            .GetRequiredService<PracticeQueries>()
            .Save(practice, [new Person(id, name, $"{id:N}@people.invalid", null, null, role, language)], CancellationToken.None);
        return id;
    }

    public async ValueTask DisposeAsync()
    {
        await App.StopAsync();
        await App.DisposeAsync();
    }

    /// <summary>One more practice, with an administrator and the key of a program.</summary>
    /// <param name="lettersLeave">At any hour; otherwise it is as new as a practice can be.</param>
    public async Task Found(string practice, bool lettersLeave = true)
    {
        var now = DateTimeOffset.UnixEpoch.AddYears(50);
        var id = DeterministicId.From("practice", practice);
        await Services
            .GetRequiredService<Commands>()
            .Execute<Practice>(
                new CommandContext(practice, Guid.Empty, "found", "", 0, now),
                id,
                p => PracticeDecider.Decide(p, new FoundPractice(id, practice, "Etc/UTC", false, Guid.Empty), now),
                CancellationToken.None
            );
        if (lettersLeave)
            await Services.GetRequiredService<Commands>().LettersLeaveAtAnyHour(practice, id, now);
        await Services.GetRequiredService<KnownPractices>().Add(new KnownPractice(practice, practice, "Etc/UTC"), CancellationToken.None);
        using var scope = Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var person = await Person(practice, "Administrator", PersonRole.Manager);
        var account = new Account
        {
            Id = DeterministicId.From("account", practice),
            Email = EmailOf(practice),
            EmailConfirmed = true,
            Memberships = [new Membership(practice, person, PracticeRole.Administrator)],
        };
        var made = await users.CreateAsync(account, Password);
        if (!made.Succeeded)
            throw new InvalidOperationException(string.Join(' ', made.Errors.Select(e => e.Description)));
        var key = AccessKey.Make();
        await Services
            .GetRequiredService<AccessKeys>()
            .Save(new AccessKey(AccessKey.HashOf(key), "test", account.Id, practice, now, DateTimeOffset.MaxValue), CancellationToken.None);
        _keys[practice] = key;
    }
}
